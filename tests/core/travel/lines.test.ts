import { describe, expect, it } from 'vitest';
import { cellAt, cellCount, type Point } from '../../../core/grid/frame.ts';
import type { Barrier, Opening } from '../../../core/travel/barriers.ts';
import { accumulateCost, traceCells } from '../../../core/travel/cost.ts';
import { CIRCUIT_MOVES, visitCrossedMoves } from '../../../core/travel/crossed-moves.ts';
import { edgeCosts, moveCosts } from '../../../core/travel/edges.ts';
import { edgeFlow, type Flow, netAcross, passageOf } from '../../../core/travel/flow.ts';
import { solveFlow } from '../../../core/travel/solve-flow.ts';
import { frameOf, gridOf } from './scene.ts';

const ANGLES = Array.from({ length: 19 }, (_, k) => 5 * k);
const frame = frameOf(60, 60, 5);
const even = gridOf(frame, () => 1.5);
const CENTRE: Point = [150, 150];

const wall = (path: Point[], openings: Opening[] = [], cost = Number.POSITIVE_INFINITY): Barrier => ({
  feature: 'wall',
  name: null,
  kind: 'fence',
  path,
  cost,
  openings,
});
const turned = (degrees: number, along: number, off: number): Point => {
  const a = (degrees * Math.PI) / 180;
  return [
    CENTRE[0] + along * Math.cos(a) - off * Math.sin(a),
    CENTRE[1] + along * Math.sin(a) + off * Math.cos(a),
  ];
};
/** A line right across the frame through its middle (and through cell corners or centres at many angles). */
const across = (degrees: number): Point[] => [turned(degrees, -400, 0), turned(degrees, 400, 0)];

/** Labels 1 and 2 on two spots on either side of the line. */
function twoSides(degrees: number): Int32Array {
  const labels = new Int32Array(cellCount(frame));
  labels[cellAt(frame, ...turned(degrees, 0, 100))] = 1;
  labels[cellAt(frame, ...turned(degrees, 0, -100))] = 2;
  return labels;
}

function flowThrough(barriers: Barrier[], labels: Int32Array, focus: number): Flow {
  return solveFlow(
    edgeCosts(even, barriers),
    labels,
    [{ from: 1, to: 2, share: 1 }],
    focus,
    moveCosts(frame, barriers),
    { accuracy: 1e-7 },
  );
}

describe('a closed, impassable line at any angle', () => {
  it.each(ANGLES)('is not passed by paths or flow at %i degrees', (degrees) => {
    const barriers = [wall(across(degrees))];
    const labels = twoSides(degrees);
    const { cost } = accumulateCost(
      even,
      Int32Array.from(labels, (l) => (l === 1 ? 1 : 0)),
      {
        crossings: moveCosts(frame, barriers),
      },
    );
    expect(cost[labels.indexOf(2)]).toBe(Number.POSITIVE_INFINITY);
    for (const focus of [0, 10]) {
      const flow = flowThrough(barriers, labels, focus);
      expect(flow.pairs).toHaveLength(0);
      expect(flow.cutOff).toHaveLength(1);
    }
  });

  it.each(ANGLES)('keeps flow out of a closed ring at %i degrees', (degrees) => {
    const ring = [
      turned(degrees, -50, -30),
      turned(degrees, 50, -30),
      turned(degrees, 50, 30),
      turned(degrees, -50, 30),
      turned(degrees, -50, -30),
    ];
    const barriers = [wall(ring)];
    const labels = twoSides(degrees);
    const within = cellAt(frame, ...CENTRE);
    for (const focus of [0, 10]) {
      const passage = passageOf(flowThrough(barriers, labels, focus), even);
      expect(passage.cells[within]).toBeLessThan(1e-9);
      const open = passageOf(flowThrough([], labels, focus), even);
      expect(open.cells[within]).toBeGreaterThan(0.02);
    }
  });

  it.each(ANGLES)('is passed at its one open span at %i degrees', (degrees) => {
    const at = turned(degrees, 40, 0);
    const direction = (degrees * Math.PI) / 180;
    const opening: Opening = {
      feature: 'gate',
      type: 'gate',
      at,
      halfWidth: 4,
      cost: 2,
      heading: [Math.cos(direction), Math.sin(direction)],
    };
    const barriers = [wall(across(degrees), [opening])];
    const labels = twoSides(degrees);
    const surface = accumulateCost(
      even,
      Int32Array.from(labels, (l) => (l === 1 ? 1 : 0)),
      {
        crossings: moveCosts(frame, barriers),
      },
    );
    const way = traceCells(surface, frame.width, labels.indexOf(2));
    expect(way.length).toBeGreaterThan(2);
    // The way goes through the gate: it comes within two cells of it.
    const nearest = Math.min(
      ...way.map((cell) => {
        const x = ((cell % 60) + 0.5) * 5 - at[0];
        const y = 300 - (Math.floor(cell / 60) + 0.5) * 5 - at[1];
        return Math.hypot(x, y);
      }),
    );
    expect(nearest).toBeLessThanOrEqual(10);

    const span: Point[] = [turned(degrees, 25, 0), turned(degrees, 55, 0)];
    for (const focus of [0, 10]) {
      const flow = flowThrough(barriers, labels, focus);
      expect(Math.abs(netAcross(flow, span)[0]!)).toBeCloseTo(1, 6);
      let elsewhere = 0;
      visitCrossedMoves(frame, across(degrees), CIRCUIT_MOVES, ({ cell, move, x, y }) => {
        if (Math.hypot(x - at[0], y - at[1]) > 15) elsewhere += Math.abs(edgeFlow(flow, 0, cell, move));
      });
      expect(elsewhere).toBeLessThan(1e-9);
    }
  });
});

describe('openings narrower than a cell', () => {
  it('pass in proportion to their width, wherever they fall between the cells', () => {
    const through = (halfWidth: number, x: number): number => {
      const opening: Opening = {
        feature: 'g',
        type: 'gate',
        at: [x, 150],
        halfWidth,
        cost: 2,
        heading: [1, 0],
      };
      const barriers = [
        wall(
          [
            [-10, 150],
            [310, 150],
          ],
          [opening],
          300,
        ),
      ]; // prettier
      const labels = new Int32Array(cellCount(frame));
      for (let c = 0; c < 60; c++) {
        labels[c] = 1;
        labels[59 * 60 + c] = 2;
      }
      const flow = flowThrough(barriers, labels, 0);
      return Math.abs(
        netAcross(flow, [
          [x - 10, 150],
          [x + 10, 150],
        ])[0]!,
      );
    };
    const narrow = [0.6, 0.7, 0.9].map((halfWidth) => through(halfWidth, 151));
    const shifted = [150, 151, 152.5, 154].map((x) => through(0.75, x));
    expect(narrow[1]!).toBeGreaterThan(narrow[0]!);
    expect(narrow[2]!).toBeGreaterThan(narrow[1]!);
    expect(Math.max(...shifted) / Math.min(...shifted)).toBeLessThan(1.6);
  });
});

describe('crossed moves', () => {
  it('tells the side: a move from left to right of a northward path goes east', () => {
    const sides: number[] = [];
    visitCrossedMoves(
      frame,
      [
        [100, 50],
        [100, 90],
      ],
      CIRCUIT_MOVES,
      ({ move, side }) => {
        expect(move).toBe(0);
        sides.push(side);
      },
    );
    expect(sides).toHaveLength(8);
    expect(new Set(sides)).toEqual(new Set([1]));
  });
});
