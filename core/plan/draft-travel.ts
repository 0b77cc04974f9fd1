import type { AttributeValue, Feature, FeatureKind } from '../features/feature.ts';
import { lengthOf } from '../features/measure.ts';
import { pathsOf } from '../features/shapes.ts';
import { formatLength, type Units } from '../features/units.ts';
import type { Point } from '../grid/frame.ts';
import { type Progress, part, silent } from '../grid/progress.ts';
import { shareAcross } from '../travel/flow.ts';
import { boundaryRings } from '../travel/owner.ts';
import { nextClosures, type PlanInputs, planPairs } from '../travel/plan-travel.ts';
import type { Closure, Neck, Route } from '../travel/types.ts';
import { type BuiltTravel, type Start, solveBuilt } from '../travel/what-if.ts';
import { buildable, crossedBy, OFF_LINE } from './draft-ground.ts';
import { trailThrough } from './draft-trail.ts';
import type { DraftFound, DraftIdea, PassedIdea } from './draft-types.ts';
import { jobsOf } from './jobs.ts';
import type { RateOf } from './rates.ts';

export interface DraftInputs extends Omit<PlanInputs, 'necks'> {
  necks: readonly Neck[];
  routes: readonly Route[];
}

export interface DraftRules {
  rate: RateOf;
  units: Units;
  /** Begins the id of every feature that is proposed. */
  prefix: string;
}

/** Best necks on the client's own ground that work is sought for: our choice. */
const MOST_NECKS = 5;
/** A thousandth of all travel: what gains less prints as no gain. */
export const LEAST_GAIN = 0.001;
/** Heights a barricade is tried at, m: the usual, and 8 ft, which common practice lays where deer jump (no source). */
const TALL = 2.44;
/** A barricade that gains this part of what a wall there would is high enough: our choice. */
const NEARLY = 0.9;

/** A plan to try ideas on: each is solved with it. */
export interface Trials {
  inputs: DraftInputs;
  rules: DraftRules;
  rings: Point[][];
  /** As it is drawn now, everything proposed in it built. */
  base: BuiltTravel;
  /** The best necks on the client's own ground. */
  own: Neck[];
  /** Travel with more built. */
  solve(more: readonly Feature[]): BuiltTravel;
}

/** @throws Cancelled */
export function beginTrials(inputs: DraftInputs, rules: DraftRules): Trials {
  const pairs = planPairs(inputs);
  let last: Start | undefined;
  const solve = (more: readonly Feature[]): BuiltTravel => {
    const built = solveBuilt({ ...pairs, features: [...inputs.features, ...more] }, inputs.todayTravel, last);
    last = built;
    return built;
  };
  return {
    inputs,
    rules,
    rings: boundaryRings(inputs.features),
    base: solve([]),
    own: inputs.necks
      .filter(({ owner }) => owner === 'inside')
      .sort((a, b) => a.rank - b.rank)
      .slice(0, MOST_NECKS),
    solve,
  };
}

export const shareAt = ({ flow }: BuiltTravel, { line }: Neck): number => shareAcross(flow, line).share;

export const drafted = (
  id: string,
  kind: FeatureKind,
  name: string,
  geometry: Feature['geometry'],
  attributes: Record<string, AttributeValue> = {},
): Feature => ({
  id,
  kind,
  status: 'proposed',
  name,
  geometry,
  attributes,
  source: 'drafted by the program',
});

/** One line, or its pieces. */
const linesOf = (paths: readonly Point[][]): Feature['geometry'] =>
  paths.length === 1
    ? lineOf(paths[0]!)
    : { type: 'MultiLineString', coordinates: paths.map((path) => path.map(([x, y]) => [x, y])) };

const lineOf = (path: readonly Point[]): Feature['geometry'] => ({
  type: 'LineString',
  coordinates: path.map(([x, y]) => [x, y]),
});

/** Person hours of one feature; NaN where they are not known. */
const hoursFor = (feature: Feature, { rate, units }: DraftRules): number =>
  jobsOf([feature], rate, units).jobs[0]?.hours ?? Number.NaN;

/**
 * Barricades and trails that bring travel to the best necks on the client's own ground. Barricades lie where the
 * cheapest cut between a neck's areas falls (`proposeClosures`); each is then tried as it would be built, in a solve of
 * its own, off ways and other ground, and what gains nothing or takes more from a better neck is passed over with
 * its reason. A trail follows the neck's strongest route.
 */
export function draftTravel(trials: Trials, progress: Progress = silent): DraftFound {
  const found: DraftFound = { ideas: [], passed: [] };
  trials.own.forEach((neck, k) => {
    const here = part(progress, k / trials.own.length, (k + 1) / trials.own.length);
    const barricades = barricadesAt(trials, neck, found.passed, here);
    found.ideas.push(...barricades, ...trailAt(trials, neck, barricades, found.passed));
    here(1);
  });
  return found;
}

function barricadesAt(trials: Trials, neck: Neck, passed: PassedIdea[], progress: Progress): DraftIdea[] {
  const { inputs, base, rings, rules } = trials;
  const { closures } = nextClosures(inputs, base, [neck]);
  progress(0.3);
  const weak: { feature: Feature; closure: Closure; gain: number; what: string }[] = [];
  const taken: DraftIdea[] = [];
  closures.forEach((closure, k) => {
    const name = `Barricade ${k + 1} for neck ${neck.rank}`;
    const what = `${name}, ${formatLength(closure.length, rules.units)}`;
    const { pieces, openFor } = buildable(inputs.features, rings, closure.path);
    if (pieces.length === 0) {
      passed.push({
        what,
        why: `None of it lies ${offLine(rules)} inside the property line and off ${openFor.join(' and ') || 'every way'}.`,
      });
      return;
    }
    const id = `${rules.prefix}-barricade-${neck.rank}-${k + 1}`;
    const tried = (attributes: Record<string, AttributeValue>) => {
      const feature = drafted(id, 'barricade', name, linesOf(pieces), attributes);
      const built = trials.solve([feature]);
      return { feature, built, gain: shareAt(built, neck) - shareAt(base, neck) };
    };
    const usual = tried({});
    // The closure itself, which nothing crosses, is the most that height can gain.
    const most = closure.neckAfter - closure.neckBefore;
    const tries = usual.gain < NEARLY * most ? [usual, tried({ height: TALL })] : [usual];
    const [best] = tries.sort(
      (a, b) => b.gain / hoursFor(b.feature, rules) - a.gain / hoursFor(a.feature, rules),
    );
    const lost = lossElsewhere(trials, best!.built, neck);
    if (best!.gain < LEAST_GAIN) weak.push({ ...best!, closure, what });
    else if (lost && lost.share > best!.gain)
      passed.push({
        what,
        why: `It brings neck ${neck.rank} ${points(best!.gain)} of all travel and takes ${points(lost.share)} from neck ${lost.neck.rank}, which holds more.`,
      });
    else taken.push(barricadeIdea(trials, neck, best!, closure, lost));
    progress(0.3 + (0.5 * (k + 1)) / closures.length);
  });
  // What gains nothing alone may close the last way round the others.
  for (const { feature, closure, gain, what } of weak) {
    const others = taken.map((idea) => idea.feature);
    const together = others.length > 0 ? trials.solve([...others, feature]) : null;
    const more = together ? shareAt(together, neck) - shareAt(trials.solve(others), neck) : gain;
    if (together && more >= LEAST_GAIN)
      taken.push({
        ...barricadeIdea(trials, neck, { feature, built: together, gain: more }, closure, null),
        needs: others.map(({ id }) => id),
      });
    else
      passed.push({
        what,
        why: `Solved as it would be built, it gains neck ${neck.rank} ${points(Math.max(gain, more))} of all travel: too little to see.`,
      });
  }
  return taken;
}

/** The most that a better neck on the client's ground loses. */
function lossElsewhere(
  { base, own }: Trials,
  built: BuiltTravel,
  neck: Neck,
): { neck: Neck; share: number } | null {
  let most: { neck: Neck; share: number } | null = null;
  for (const other of own) {
    if (other.id === neck.id || shareAt(base, other) < shareAt(base, neck)) continue;
    const share = shareAt(base, other) - shareAt(built, other);
    if (share >= LEAST_GAIN && share > (most?.share ?? 0)) most = { neck: other, share };
  }
  return most;
}

function barricadeIdea(
  { base, inputs, rings, rules }: Trials,
  neck: Neck,
  { feature, built, gain }: { feature: Feature; built: BuiltTravel; gain: number },
  { leak, path, length }: Closure,
  lost: ReturnType<typeof lossElsewhere>,
): DraftIdea {
  const after = shareAt(built, neck);
  const { openFor } = buildable(inputs.features, rings, path);
  const paths = pathsOf(feature.geometry);
  const met = (kind: 'creek' | 'fence'): string | undefined =>
    paths.flatMap((path) => crossedBy(inputs.features, path, [kind]) ?? [])[0];
  const [creek, fence] = [met('creek'), met('fence')];
  const open = length - lengthOf(feature.geometry);
  const now = shareAt(base, neck);
  const more = after - gain - now >= LEAST_GAIN;
  const { height } = feature.attributes;
  return {
    feature,
    aim: 'travel',
    gain,
    reasons: [
      `Built, it brings neck ${neck.rank} from ${percent(after - gain)} to ${percent(after)} of all travel${more ? ` with the others for it built, ${percent(now)} as drawn now` : ''}.`,
      `${percent(leak)} of all travel slips by through here.`,
      ...(typeof height === 'number'
        ? [
            `Laid ${formatLength(height, rules.units, 'height')} high: it gains more for its hours than the usual height.`,
          ]
        : []),
    ],
    cautions: [
      ...(open > 1
        ? [
            `${formatLength(open, rules.units)} of the line stay open${openFor.length > 0 ? ` for ${openFor.join(' and ')}` : ' off the property line'}; the gain is solved with them open.`,
          ]
        : []),
      ...(lost ? [`It takes ${points(lost.share)} of all travel from neck ${lost.neck.rank}.`] : []),
      ...(creek ? [`It meets ${creek}: nothing goes into a bed or on its banks without the permits.`] : []),
      ...(fence ? [`It meets ${fence}: ask whose it is and what stock it holds.`] : []),
    ],
    needs: [],
  };
}

/** A cleared trail through a neck, where clearing gains; it needs the barricades where it gains far less without. */
function trailAt(
  trials: Trials,
  neck: Neck,
  barricades: readonly DraftIdea[],
  passed: PassedIdea[],
): DraftIdea[] {
  const { inputs, base, rings, rules } = trials;
  const what = `Trail through neck ${neck.rank}`;
  const stretch = trailThrough(neck, inputs.routes, inputs, rings);
  if (!stretch) return [];
  if ('why' in stretch) {
    passed.push({ what, why: stretch.why });
    return [];
  }
  const feature = drafted(`${rules.prefix}-trail-${neck.rank}`, 'trail', what, lineOf(stretch.path));
  const built = trials.solve([feature]);
  const alone = shareAt(built, neck) - shareAt(base, neck);
  const others = barricades.map((idea) => idea.feature);
  const before = others.length > 0 ? shareAt(trials.solve(others), neck) : shareAt(base, neck);
  const withAll = others.length > 0 ? shareAt(trials.solve([...others, feature]), neck) - before : alone;
  const rests = others.length > 0 && alone < withAll / 2;
  const gain = rests ? withAll : alone;
  if (gain < LEAST_GAIN) {
    passed.push({
      what,
      why: `Cleared, it gains neck ${neck.rank} ${points(gain)} of all travel: deer pass there as it is.`,
    });
    return [];
  }
  const from = rests ? before : shareAt(base, neck);
  return [
    {
      feature,
      aim: 'travel',
      gain,
      reasons: [
        `Cleared for ${formatLength(stretch.length, rules.units)} along the strongest route, it brings neck ${neck.rank} from ${percent(from)} to ${percent(from + gain)} of all travel${rests ? ' with the barricades built' : ''}.`,
        ...(rests
          ? [`Without the barricades it gains only ${points(alone)}: it leads deer past ways that stay open.`]
          : others.length > 0
            ? [`With the barricades for this neck built it gains ${points(withAll)}.`]
            : []),
        'Its slash is to be thrown well off it: what lies in the trail stops deer.',
      ],
      cautions: [],
      needs: rests ? others.map(({ id }) => id) : [],
    },
  ];
}

export const offLine = ({ units }: DraftRules): string => formatLength(OFF_LINE, units);
/** Gains are small, so tenths are told. */
export const percent = (share: number): string => `${(share * 100).toFixed(1)}%`;
export const points = (share: number): string => `${(share * 100).toFixed(1)} points`;
