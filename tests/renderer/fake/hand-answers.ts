import type { Point } from '../../../core/grid/frame.ts';
import type { DraggedAnswer, OnwardAnswer, SmelledAnswer } from '../../../electron/service/contract.ts';

/** Answers about the spot under the hand on the fake landscape: invented numbers, drawn where they are asked. */
export const handAnswers: Record<string, (params: never) => unknown> = {
  'hand.onward': ({ x, y }: { x: number; y: number }): OnwardAnswer => {
    const to = (east: number, north: number): Point[] => [
      [x, y],
      [x + east / 2, y + north / 2],
      [x + east, y + north],
    ];
    return {
      share: 0.062,
      reach: 15,
      ahead: 274.32,
      ways: [
        {
          share: 0.62,
          bearing: 60,
          path: to(240, 140),
          when: 'dusk',
          words: 'northeast, down a draw, towards Corn, at dusk',
        },
        {
          share: 0.38,
          bearing: 250,
          path: to(-250, -90),
          when: 'any',
          words: 'west, over a saddle, towards Pines',
        },
      ],
      stays: 0,
      sentence: '6.2% of all travel passes within 16 yd of here.',
      notes: ['As many deer are taken to go one way as the other.'],
    };
  },
  'hand.dragged': ({
    feature,
    neck,
  }: {
    feature: { geometry: { coordinates: Point[] } };
    neck: string | null;
  }): DraggedAnswer => {
    const [[x, y]] = feature.geometry.coordinates as [Point];
    return {
      moved: [
        {
          was: [
            [x - 300, y - 200],
            [x + 300, y - 200],
          ],
          path: [
            [x - 300, y - 200],
            [x, y + 200],
            [x + 300, y - 200],
          ],
          share: 0.12,
        },
      ],
      necks: [{ id: neck ?? 'neck-1', rank: neck === 'neck-2' ? 2 : 1, before: 0.31, after: 0.44 }],
      line: { before: 0.12, after: 0.03 },
      sentences: ['12% of all travel meets it here, and 3% still gets across.'],
      seconds: 0.4,
    };
  },
  'hand.air': () => ({ ready: true }),
  'hand.smelled': ({
    x,
    y,
    date,
    hour,
  }: {
    x: number;
    y: number;
    date: string;
    hour: number;
  }): SmelledAnswer => {
    const plume = (width: number, length: number) => ({
      type: 'Polygon' as const,
      coordinates: [
        [
          [x, y],
          [x + length, y - width],
          [x + length, y + width],
          [x, y],
        ],
      ],
    });
    return {
      when: `${date} at ${hour}:00, calm`,
      sentences: ['Smelled as far as 260 yd east.', 'Misses neck 1, the best.'],
      notes: ['What a deer notices is our assumption.'],
      carry: 238,
      bearing: 90,
      necks: [{ rank: 1, met: 'no' }],
      keen: plume(60, 320),
      usual: plume(30, 238),
    };
  },
};
