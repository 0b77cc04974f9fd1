import { expect, it } from 'vitest';
import { cellCentre, cellCount, type Point } from '../../../core/grid/frame.ts';
import { draggedSentences, tellFirst } from '../../../core/travel/dragged-words.ts';
import { edgeCosts, moveCosts } from '../../../core/travel/edges.ts';
import { type Flow, shareAcross } from '../../../core/travel/flow.ts';
import { flowLines, movedLines } from '../../../core/travel/flow-lines.ts';
import { solveFlow } from '../../../core/travel/solve-flow.ts';
import { frameOf, gridOf } from './scene.ts';

/** A belt that nothing crosses, with a south gap and, where it is open, a north one. */
const frame = frameOf(120, 80, 5);
const labels = Int32Array.from({ length: cellCount(frame) }, (_, i) => {
  const [x, y] = cellCentre(frame, i);
  return Math.hypot(x - 100, y - 200) <= 12 ? 1 : Math.hypot(x - 500, y - 200) <= 12 ? 2 : 0;
});
function through(north: boolean): Flow {
  const ground = gridOf(frame, (x, y) =>
    Math.abs(x - 300) < 10 && Math.abs(y - 150) > 10 && !(north && Math.abs(y - 260) <= 10) ? Number.NaN : 1,
  );
  const pairs = [{ from: 1, to: 2, share: 1 }];
  const none = moveCosts(frame, []);
  return solveFlow(edgeCosts(ground, []), labels, pairs, 10, none, { accuracy: 1e-9 });
}
const gap: [Point, Point] = [
  [300, 245],
  [300, 275],
];
const pointsOf = (cells: readonly number[]): Point[] => cells.map((cell) => cellCentre(frame, cell));
const crosses = (path: readonly Point[]): boolean =>
  path.some(([x, y], k) => {
    const next = path[k + 1];
    if (!next || x < 300 === next[0] < 300) return false;
    return y + ((300 - x) / (next[0] - x)) * (next[1] - y) > 205;
  });

it('lines pass a gap as often as the flow does, and those alone move when it closes', () => {
  const open = through(true);
  const lines = flowLines(open, 1000);
  expect(lines.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
  const north = lines.filter(({ cells }) => crosses(pointsOf(cells)));
  // A share of a thousand draws lies within three standard errors of what it is drawn from.
  const wanted = shareAcross(open, gap).share;
  expect(wanted).toBeGreaterThan(0.1);
  expect(Math.abs(north.length / 1000 - wanted)).toBeLessThan(3 * Math.sqrt((wanted * (1 - wanted)) / 1000));
  expect(movedLines(frame, lines, flowLines(through(true), 1000))).toEqual([]);
  const closed = flowLines(through(false), 1000);
  const moved = movedLines(frame, lines, closed);
  // Whatever went through the closed gap goes elsewhere, and nothing goes through it.
  expect(moved.filter(({ was }) => crosses(was))).toHaveLength(north.length);
  expect(moved.filter(({ path }) => crosses(path))).toEqual([]);
  // Lines end where they ended, whatever way they take.
  for (const { cells } of closed) {
    const path = pointsOf(cells);
    expect(Math.hypot(path[0]![0] - 100, path[0]![1] - 200)).toBeLessThan(16);
    expect(Math.hypot(path.at(-1)![0] - 500, path.at(-1)![1] - 200)).toBeLessThan(16);
  }
  // A line that is cut off runs nowhere; it is shown where it ran.
  const [first] = lines;
  const [cut] = movedLines(frame, [first!], []);
  expect(cut!.path).toEqual([]);
  expect(cut!.was.length).toBeGreaterThan(1);
  expect(cut!.share).toBeCloseTo(0.001, 9);
});

it('names the neck asked about first, then those that change most', () => {
  const neck = (rank: number, before: number, after: number) => ({ id: `n${rank}`, rank, before, after });
  const necks = [neck(1, 0.3, 0.3), neck(2, 0.2, 0.35), neck(3, 0.1, 0.101), neck(4, 0.1, 0.02)];
  expect(tellFirst(necks, 'n3').map(({ rank }) => rank)).toEqual([3, 2, 4]);
  expect(tellFirst(necks, null).map(({ rank }) => rank)).toEqual([1, 2, 4]);
  expect(tellFirst([], null)).toEqual([]);
  const line = { before: 0.12, after: 0.03 };
  expect(draggedSentences({ line, moved: [{ share: 0.1 }, { share: 0.05 }], cutOff: 1 })).toEqual([
    '12% of all travel meets it here, and 3% still gets across.',
    'Lines that stand for 15% of travel run elsewhere.',
    'It leaves one pair of areas no way to each other.',
  ]);
});
