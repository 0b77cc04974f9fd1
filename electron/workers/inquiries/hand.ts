import { windowRound } from '../../../core/air/near-ground.ts';
import type { WindField } from '../../../core/air/particles.ts';
import { PLAN_NEEDS } from '../../../core/analysis/steps/travel.ts';
import { cellAt, type Grid, type Point } from '../../../core/grid/frame.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { REACH } from '../../../core/stands/scent.ts';
import { smelledFrom } from '../../../core/stands/smelled.ts';
import { weightsOf } from '../../../core/travel/assumptions.ts';
import { barriersOf } from '../../../core/travel/barriers.ts';
import { shareAcross } from '../../../core/travel/flow.ts';
import { flowLines, movedLines } from '../../../core/travel/flow-lines.ts';
import { groundAlong } from '../../../core/travel/ground-along.ts';
import { featuresAt, type Moment } from '../../../core/travel/moment.ts';
import { onwardFrom } from '../../../core/travel/onward.ts';
import { type BuiltTravel, joinBuilt } from '../../../core/travel/what-if.ts';
import { airNear, type HourAir, localOf, poolsOf } from './air.ts';
import { defineInquiry } from './inquiry.ts';

/** A deer this near to the spot is at it (our choice), m; and at least the cell travel is solved on. */
const BY_REACH = 15;

/** Where a deer at a spot goes next, by the flow of today. */
export const onward = defineInquiry({
  needs: ['todayTravel', 'assumptions', 'elevation', 'slope', 'features', 'saddles', 'benches', 'draws'],
  run(inputs, { at, ahead, moment }: { at: Point; ahead: number; moment: Moment }) {
    const { costs, flow } = inputs.todayTravel;
    const { frame, cells } = costs.resistance;
    const cell = cellAt(frame, ...at);
    if (cell < 0) throw new Problem('That spot is off the map.', { fix: 'Point inside the map.' });
    if (Number.isNaN(cells[cell]!))
      throw new Problem('The ground here is not known, so no travel is computed.', {
        fix: 'Point at known ground.',
      });
    const reach = Math.max(BY_REACH, frame.cellSize);
    const found = onwardFrom(flow, at, reach, Math.max(ahead, 3 * frame.cellSize));
    const features = featuresAt(inputs.features, moment);
    const barriers = barriersOf(features, weightsOf(inputs.assumptions), inputs.slope);
    const sources = { ...inputs, features, barriers };
    return {
      ...found,
      reach,
      pairs: flow.pairs.length,
      cellSize: frame.cellSize,
      over: found.ways.map(({ path }) => groundAlong(path, inputs.elevation, sources)),
    };
  },
});

/** The air of an hour made ready for spots all over the map: what is the same for each of them. */
export const air = defineInquiry({
  needs: ['elevation', 'poolDepth'],
  run({ elevation, poolDepth }, hour: HourAir, progress) {
    const local = localOf(hour);
    progress(0.5);
    return { local, pools: poolsOf(hour, elevation, poolDepth) };
  },
});

/** Where a person at a spot is smelled, in air made ready. */
export const smelled = defineInquiry({
  needs: ['elevation', 'areas', 'travelAreas', 'routes', 'necks'],
  run(
    inputs,
    { at, hour, local, pools }: { at: Point; hour: HourAir; local: WindField | null; pools: Grid | null },
  ) {
    const { frame, cells } = inputs.elevation;
    const here = cellAt(frame, ...at);
    if (here < 0 || Number.isNaN(cells[here]!))
      throw new Problem('There is no ground at that spot.', { fix: 'Point at ground inside the map.' });
    const near = airNear(windowRound(frame, at, REACH), local, hour, pools);
    return smelledFrom(at, near, hour.kind, inputs, inputs.necks, 1);
  },
});

/** Lines travel is drawn by while a proposal is dragged: as many as can be looked at (our choice). */
const LINES = 90;

/** Travel with a proposal where it is dragged to: what runs elsewhere, and what that does to the necks. */
export const dragged = defineInquiry({
  needs: PLAN_NEEDS,
  run({ todayTravel: today, necks }, { bands, line }: { bands: BuiltTravel[]; line: Point[] }) {
    const built = joinBuilt(bands);
    const shares = (path: readonly Point[]) => ({
      before: shareAcross(today.flow, path).share,
      after: shareAcross(built.flow, path).share,
    });
    return {
      last: { costs: built.costs, areas: built.areas, flow: built.flow },
      moved: movedLines(built.flow.frame, flowLines(today.flow, LINES), flowLines(built.flow, LINES)),
      necks: necks.map((neck) => ({ rank: neck.rank, id: neck.id, ...shares(neck.line) })),
      line: shares(line),
      cutOff: built.flow.cutOff.length - today.flow.cutOff.length,
    };
  },
});
