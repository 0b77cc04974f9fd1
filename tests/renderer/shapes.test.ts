import { describe, expect, it } from 'vitest';
import { pointsOf, rowsOf } from '../../renderer/state/rows.ts';
import { areaOf, kindTitle, lengthOf, measureOf, splitLine } from '../../renderer/words/features.ts';

const square = (x: number, y: number, side: number) => [
  [x, y],
  [x + side, y],
  [x + side, y + side],
  [x, y + side],
  [x, y],
];

describe('measures of what is drawn', () => {
  it('measures lines and areas in the plane, holes taken out, far from the origin', () => {
    const [x, y] = [571_000, 4_364_000];
    expect(
      lengthOf([
        [x, y],
        [x + 3, y + 4],
        [x + 3, y + 16],
      ]),
    ).toBeCloseTo(17, 9);
    expect(areaOf([square(x, y, 100), square(x + 10, y + 10, 20)])).toBeCloseTo(10_000 - 400, 6);
    expect(areaOf([square(x, y, 100).toReversed()])).toBeCloseTo(10_000, 6);
  });

  it('says them in the person’s units, and nothing for a point', () => {
    expect(
      measureOf(
        {
          type: 'LineString',
          coordinates: [
            [0, 0],
            [91.44, 0],
          ],
        },
        'us',
      ),
    ).toBe('100 yd');
    expect(measureOf({ type: 'Polygon', coordinates: [square(0, 0, 200)] }, 'metric')).toBe('4.0 ha');
    expect(measureOf({ type: 'Point', coordinates: [0, 0] }, 'us')).toBe('');
    expect(kindTitle('powerline')).toBe('Power line');
    expect(kindTitle('fence')).toBe('Fence');
  });
});

describe('rows of a table', () => {
  it('gives every vertex of any shape', () => {
    expect(pointsOf({ type: 'Point', coordinates: [1, 2] })).toEqual([[1, 2]]);
    expect(
      pointsOf({ type: 'MultiPolygon', coordinates: [[square(0, 0, 1)], [square(5, 5, 1)]] }),
    ).toHaveLength(10);
    expect(
      pointsOf({
        type: 'GeometryCollection',
        geometries: [
          { type: 'Point', coordinates: [1, 2] },
          {
            type: 'LineString',
            coordinates: [
              [3, 4],
              [5, 6],
            ],
          },
        ],
      }),
    ).toEqual([
      [1, 2],
      [3, 4],
      [5, 6],
    ]);
  });

  it('takes the spot from the row, else from the middle of its shape, and the id as text', () => {
    const rows = rowsOf('pools', {
      type: 'FeatureCollection',
      features: [
        {
          type: 'Feature',
          id: 7,
          geometry: { type: 'Point', coordinates: [1, 2] },
          properties: { depth: 2 },
        },
        {
          type: 'Feature',
          id: 'p',
          geometry: { type: 'Point', coordinates: [1, 2] },
          properties: { at: [8, 9] },
        },
      ],
    });
    expect(rows.map((row) => [row.id, row.at])).toEqual([
      ['7', [1, 2]],
      ['p', [8, 9]],
    ]);
    expect(rowsOf('pools', null)).toEqual([]);
  });
});

describe('a line cut in two', () => {
  const bent = [
    [0, 0],
    [10, 0],
    [10, 10],
  ];

  it('meets at the place nearest to the point, on a leg or in a corner', () => {
    expect(splitLine(bent, [4, 3])).toEqual([
      [
        [0, 0],
        [4, 0],
      ],
      [
        [4, 0],
        [10, 0],
        [10, 10],
      ],
    ]);
    const [one, other] = splitLine(bent, [12, -1]);
    expect(one.at(-1)).toEqual([10, 0]);
    expect(other![0]).toEqual([10, 0]);
    expect(lengthOf(one) + lengthOf(other!)).toBeCloseTo(20, 9);
  });

  it('is left whole at either end', () => {
    expect(splitLine(bent, [-3, 1])[1]).toBeNull();
    expect(splitLine(bent, [11, 14])[1]).toBeNull();
  });
});
