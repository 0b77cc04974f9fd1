import { formatArea, formatLength, formatShare, type Units } from '../features/units.ts';
import { cellAt, type Point } from '../grid/frame.ts';
import { type Progress, part } from '../grid/progress.ts';
import { HUNTED, standCases } from './case-verdict.ts';
import { type ReadyGround, readyGround } from './judge-way.ts';
import { lookFrom, reachOf } from './look.ts';
import { along, REACH } from './reach.ts';
import { reachMask, subjectOf } from './reach-mask.ts';
import { type Ruled, type StandFault, type TriedChange, usable } from './ruling-types.ts';
import { besidePath } from './screen-shapes.ts';
import { DEEP, screenedGround } from './screening.ts';
import { away, prepareSearch, type SiteRules } from './site-ground.ts';
import type { JudgedSite } from './site-judge.ts';
import { judgeNear } from './site-search.ts';
import { type PartWay, wayOptions, waysOfParts, windsToWalkIn } from './sitting.ts';
import type { ApproachWay, Lane } from './types.ts';
import { standVerdict } from './verdict.ts';

/** A stand is moved within this, m, and so many spots are judged in full for it: our choice. */
const MOVES = 150;
const MOST_MOVES = 3;
/** More of the hunter in view of passing deer than this is a fault: our assumption. */
export const SEEN = 0.4;
/** The screen round a blind stands so far off, m. */
const ROUND = 6;

/** Changes for a fault from the smallest to the largest, each tried only when it is come to. */
export function* attempts(ruled: Ruled, fault: StandFault, progress: Progress): Generator<TriedChange> {
  const smaller = { way: wayChanges, scent: () => [], reach: laneChanges, seen: blindChanges }[fault];
  let k = 0;
  for (const change of smaller(ruled)) {
    progress(Math.min(0.4, 0.1 * ++k));
    yield change;
  }
  const moved = moveChange(ruled, part(progress, 0.4, 1));
  if (moved) yield moved;
}

function tryWays(
  { stand, rules, ground, ready }: Ruled,
  change: Partial<SiteRules['way']>,
  over: ReadyGround = ready,
): { hours: number; gained: number; worth: number; ways: PartWay[] } {
  const { spot, verdict } = stand;
  const options = wayOptions(ground, { ...rules.way, ...change });
  const ways = waysOfParts(spot, over, windsToWalkIn(verdict), options, rules.units);
  const after = usable(verdict, ways);
  return { ...after, gained: after.hours - usable(verdict, stand.ways).hours, ways };
}

/** The ways that are walked with a change, without repeats. */
const wayLines = (ways: readonly PartWay[]): Point[][] => {
  const best = new Map<string, ApproachWay>();
  for (const { walks } of ways) for (const { best: way } of walks) if (way) best.set(way.id, way);
  return [...best.values()].map(({ path }) => path);
};

function* wayChanges(ruled: Ruled): Generator<TriedChange> {
  const { stand, rules, ready } = ruled;
  const { units } = rules;
  const change = (
    what: string,
    found: ReturnType<typeof tryWays>,
    more: Partial<TriedChange>,
  ): TriedChange => ({
    ruling: 'new way in',
    what,
    hours: found.hours,
    gained: found.gained,
    worth: found.worth,
    seen: null,
    at: null,
    lines: wayLines(found.ways),
    doubts: [],
    ...more,
  });
  if (rules.way.dryLeaves)
    yield change('Rake the way in bare of leaves.', tryWays(ruled, { dryLeaves: false }), {
      doubts: ['Leaves fall again: it has to be raked each season, out of it.'],
    });
  if (rules.way.mode === 'foot')
    yield change('Drive as far as the roads go and walk from there.', tryWays(ruled, { mode: 'vehicle' }), {
      doubts: ['Deer that are used to vehicles bear them; whether these are is not known.'],
    });
  const screened = screenedWay(stand.ways, ready);
  if (screened.length > 0) {
    const planted = screenedGround(ruled.ground, screened);
    const found = tryWays(ruled, {}, readyGround(planted, rules.settings.leaves));
    yield change(
      `Plant ${formatLength(lengthOf(screened), units)} of tall grass along the way in, ${formatArea(planted.planted, units)}.`,
      found,
      {
        ruling: 'screen',
        lines: screened,
        doubts: ['It hides from its second season on; fully grown is what was tried (our assumption).'],
      },
    );
  }
  if (!rules.way.allowNeighbour && ready.surface.bounded) {
    const asked = fromNeighbour(ruled);
    if (asked) yield asked;
  }
}

/** The clean way from the neighbour's side that may be walked once it is allowed, for the parts of the day that have one. */
function fromNeighbour({ stand, rules }: Ruled): TriedChange | null {
  const opened = stand.ways.map((way): PartWay => {
    const clean = way.walks.every((walk) => walk.clean !== false || walk.ifAllowed !== null);
    return way.clean === false && clean ? { ...way, clean: true } : way;
  });
  const lines = new Map(
    stand.ways
      .flatMap(({ walks }) => walks)
      .flatMap(({ ifAllowed }) => (ifAllowed ? [[ifAllowed.id, ifAllowed] as const] : [])),
  );
  const [first] = lines.values();
  if (!first) return null;
  const after = usable(stand.verdict, opened);
  return {
    ruling: 'new way in',
    what: `Ask the neighbour for leave to come in over ${formatLength(first.length, rules.units)} from that side.`,
    hours: after.hours,
    gained: after.hours - usable(stand.verdict, stand.ways).hours,
    worth: after.worth,
    seen: null,
    at: null,
    lines: [...lines.values()].map(({ path }) => path),
    doubts: [
      'It is the neighbour’s to grant, in writing; how the neighbour’s side is come to was not looked at.',
    ],
  };
}

/** Where a way is in view of deer: the stretches beside it that a screen would stand on. */
function screenedWay(ways: readonly PartWay[], { surface, watchers }: ReadyGround): Point[][] {
  const way = ways.flatMap(({ walks }) => walks).find(({ clean, best }) => clean === false && best)?.best;
  if (!way?.faults.some(({ key, grave }) => grave && key.startsWith('seen'))) return [];
  const { frame } = surface;
  const stretches: Point[][] = [];
  let open: Point[] = [];
  const end = () => {
    if (open.length > 1) stretches.push(open);
    open = [];
  };
  for (const { at } of along(way.path, frame.cellSize)) {
    const cell = cellAt(frame, ...at);
    const seen = (['bedding', 'travel', 'food'] as const).some(
      (group) => watchers.seen[group].cells[cell]! > 0.05,
    );
    if (seen) open.push(at);
    else end();
  }
  end();
  return stretches.flatMap((line) => [besidePath(line, 1.5 * DEEP), besidePath(line, -1.5 * DEEP)]);
}

const lengthOf = (lines: readonly (readonly Point[])[]): number =>
  lines.reduce(
    (sum, line) => sum + line.reduce((all, at, k) => (k === 0 ? 0 : all + away(at, line[k - 1]!)), 0),
    0,
  );

/** The verdict run again on changed ground or with more in view. */
function again(
  { stand, ground, air, rules }: Ruled,
  mask: ReturnType<typeof reachMask>,
): { hours: number; gained: number; worth: number } {
  const cases = standCases(
    subjectOf(stand.spot),
    { ...ground, ground: { ...ground, routes: ground.walked }, reach: mask },
    air,
    { ...rules.rough, hunt: rules.hunt, parts: HUNTED.filter((each) => rules.lawful[each] > 0) },
  );
  const after = usable(standVerdict(cases, rules.lawful, rules.hunt), stand.ways);
  return { ...after, gained: after.hours - usable(stand.verdict, stand.ways).hours };
}

function* laneChanges(ruled: Ruled): Generator<TriedChange> {
  const { stand, ground, rules } = ruled;
  const { lanes } = stand.reach;
  if (lanes.length === 0) return;
  const { grid } = reachOf(stand.spot, ground, rules.settings.leaves);
  const mask = reachMask(ground, stand.spot, rules.settings.leaves);
  const opened = { frame: mask.frame, cells: mask.cells.slice() };
  for (const { path } of lanes)
    for (const { at } of along(path, mask.frame.cellSize / 2)) {
      const [i, j] = [cellAt(mask.frame, ...at), cellAt(grid.codes.frame, ...at)];
      if (i >= 0 && j >= 0 && grid.codes.cells[j]! > REACH.ground) opened.cells[i] = 1;
    }
  yield {
    ruling: 'keep',
    what: lanesWords(lanes, rules.units),
    ...again(ruled, opened),
    seen: null,
    at: null,
    lines: lanes.map(({ path }) => [...path]),
    doubts: ['Cut no more than the lanes: cover also hides the hunter.'],
  };
}

const lanesWords = (lanes: readonly Lane[], units: Units): string =>
  `Cut ${lanes.length === 1 ? 'the lane' : `${lanes.length} lanes`}, ${formatLength(
    lanes.reduce((sum, { cut }) => sum + cut, 0),
    units,
  )} of it through cover.`;

function* blindChanges(ruled: Ruled): Generator<TriedChange> {
  const { stand, ground, rules } = ruled;
  const { spot, reach } = stand;
  const open = reach.concealment.directions.filter(({ seen }) => seen > SEEN);
  const lines = open.map(({ bearing }) => arcRound(spot.at, bearing));
  if (lines.length === 0) return;
  const planted = screenedGround(ground, lines);
  const { reach: hidden } = lookFrom(spot, { ...ground, ...planted }, rules.settings, rules.units);
  const found = again(
    { ...ruled, ground: { ...ground, ...planted } },
    reachMask(planted, spot, rules.settings.leaves),
  );
  yield {
    ruling: 'screen',
    what: `Plant a crescent of tall grass round it, open at the back: passing deer then have ${formatShare(hidden.concealment.seen)} of the hunter in view, ${formatShare(reach.concealment.seen)} now.`,
    ...found,
    seen: hidden.concealment.seen,
    at: null,
    lines,
    doubts: ['Fully grown is what was tried (our assumption); a raised seat still shows above it.'],
  };
}

/** A piece of a circle round a blind towards a bearing. */
const arcRound = ([x, y]: Point, bearing: number): Point[] =>
  [-15, -7.5, 0, 7.5, 15].map((off) => {
    const turn = ((bearing + off) * Math.PI) / 180;
    return [x + Math.sin(turn) * ROUND, y + Math.cos(turn) * ROUND];
  });

function moveChange(ruled: Ruled, progress: Progress): TriedChange | null {
  const { stand, others, ground, air, rules, ready } = ruled;
  const { spot } = stand;
  const wish = {
    seat: 'any' as const,
    weapon: spot.weapon,
    range: spot.range,
    count: 1,
    stands: others,
    within: { at: spot.at, reach: MOVES },
  };
  const search = prepareSearch(ground, air, wish, rules, ready);
  const found = judgeNear(search, MOST_MOVES, progress).filter((site) => away(site.spot.at, spot.at) > 10);
  const best = found.reduce<JudgedSite | null>(
    (most, site) => (most && rank(most) >= rank(site) ? most : site),
    null,
  );
  if (!best) return null;
  const after = usable(best.verdict, best.ways);
  return {
    ruling: 'move',
    what: `Move it ${formatLength(away(best.spot.at, spot.at), rules.units)}${best.seat === 'tree' ? ' to timber' : best.seat === 'tower' ? ' into a tower' : ''}.`,
    hours: after.hours,
    gained: after.hours - usable(stand.verdict, stand.ways).hours,
    worth: after.worth,
    seen: best.reach.concealment.directions.length > 0 ? best.reach.concealment.seen : null,
    at: best.spot.at,
    lines: [[spot.at, best.spot.at]],
    doubts: best.faults.map(({ sentence: fault }) => fault),
  };
}

const rank = ({ value, potential }: JudgedSite): number => value + potential / 1000;
