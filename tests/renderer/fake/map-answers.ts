import type { ProfileAnswer } from '../../../electron/service/contract.ts';
import { elevation, FRAME } from './ground.ts';

const cellOf = ([x, y]: [number, number]): [number, number] => [
  (x - FRAME.west) / FRAME.cellSize,
  (FRAME.north - y) / FRAME.cellSize,
];

/** Answers of the map's tools about the fake landscape: its own heights, an invented cover. */
export const mapAnswers: Record<string, (params: never) => unknown> = {
  'map.profile': ({ path }: { path: [number, number][] }): ProfileAnswer => {
    const [from, to] = [path[0]!, path.at(-1)!];
    const length = path
      .slice(1)
      .reduce((sum, [x, y], n) => sum + Math.hypot(x - path[n]![0], y - path[n]![1]), 0);
    const places = Array.from({ length: 41 }, (_, n) => {
      const at: [number, number] = [
        from[0] + (n / 40) * (to[0] - from[0]),
        from[1] + (n / 40) * (to[1] - from[1]),
      ];
      return {
        distance: (n / 40) * length,
        at,
        ground: elevation(...cellOf(at)),
        slope: 12,
        grade: n < 20 ? 0.08 : -0.05,
        cover: n < 30 ? 0 : 1,
      };
    });
    return {
      places,
      length,
      surfaceLength: length * 1.02,
      climb: 18,
      descent: 6,
      covers: [
        { label: 'Deciduous timber', colour: '#74ad69', pattern: 'rising', share: 0.75 },
        { label: 'Open ground', colour: '#efe2a6', pattern: 'plain', share: 0.25 },
      ],
      sight: {
        visible: false,
        obstruction: { at: places[20]!.at, distance: length / 2, above: 3 },
        sentence: 'Its far end is hidden from its start.',
      },
      sentences: ['59 ft up and 20 ft down.'],
      note: 'Over bare ground.',
    };
  },
  'map.heights': ({ most }: { most: number }): Uint8Array => {
    const factor = Math.ceil(Math.max(FRAME.width, FRAME.height) / most);
    const [columns, rows] = [Math.ceil(FRAME.width / factor), Math.ceil(FRAME.height / factor)];
    const bytes = new Uint8Array(12 + 4 * columns * rows);
    const view = new DataView(bytes.buffer);
    [columns, rows, factor].forEach((value, n) => {
      view.setUint32(4 * n, value, true);
    });
    for (let i = 0; i < columns * rows; i++)
      view.setFloat32(
        12 + 4 * i,
        elevation(((i % columns) + 0.5) * factor, (Math.floor(i / columns) + 0.5) * factor),
        true,
      );
    return bytes;
  },
};
