import type { Cloud } from '../../core/air/clock.ts';
import type { RecordSpan } from '../../core/air/record.ts';
import { SECTORS } from '../../core/air/types.ts';
import { formatLength, formatShare, formatSpeed, type Units } from '../../core/features/units.ts';
import { COARSE } from '../../core/stands/coarse.ts';
import type { TrailWind } from '../../core/stands/deer-wind.ts';
import { NOSE_THRESHOLD } from '../../core/stands/scent.ts';
import type { CreekStage } from '../../core/stands/types.ts';
import type { AirState } from './air-answers.ts';
import type { OpenProperty } from './open-property.ts';

/** Sentences of the answers about air. */

export const stateWords = (state: AirState): string =>
  state === 'calm drainage' ? 'calm drainage' : `stability class ${state}`;

export const NOSE_NOTE = `A deer is taken to notice scent thinned to ${NOSE_THRESHOLD.usual} s/m³ (band ${NOSE_THRESHOLD.low} to ${NOSE_THRESHOLD.high}): our assumption.`;

export const nightNote = ({ input }: OpenProperty): string =>
  `Open ground loses ${input.settings.air.cooling} W/m² on a clear calm night (a setting).`;

export const coolingNote = (property: OpenProperty, cloud: Cloud = 0): string =>
  `${skyWords(cloud)}. ${nightNote(property)}`;

function skyWords(cloud: Cloud): string {
  if (typeof cloud === 'number')
    return cloud > 0 ? `${formatShare(cloud)} of the sky is taken as covered` : 'Clear sky is assumed';
  const [least, most] = [Math.min(...cloud), Math.max(...cloud)];
  if (most === least) return skyWords(most);
  return `The sky is taken hour by hour, ${formatShare(least)} to ${formatShare(most)} of it covered`;
}

const STAGE_WORDS: Record<CreekStage, string> = {
  dry: 'Creeks are taken as dry, with their beds as measured',
  normal: 'Creeks are taken at the mean flow of a year',
  high: 'Creeks are taken as full to their banks',
};

/** How high the creeks stand, and what that rests on. */
export const creekNote = ({ input }: OpenProperty): string => {
  const stage = input.settings.air.creekStage;
  return stage === 'dry'
    ? `${STAGE_WORDS[stage]}; moving water is not taken to drag air along.`
    : `${STAGE_WORDS[stage]}: the depth of water follows from the ground that drains there within the map (Bieger et al. 2015), and takes from the room below the banks; moving water is not taken to drag air along.`;
};

/** Slower wind counts as calm, m/s. */
const CALM = 0.5;

export function windWords(
  { windFrom, windSpeed }: { windFrom: number; windSpeed: number },
  units: Units,
): string {
  if (windSpeed < CALM) return 'calm';
  return `${formatSpeed(windSpeed, units)} from ${SECTORS[Math.round((windFrom % 360) / 22.5) % 16]}`;
}

const day = (hours: number): string => new Date(hours * 3_600_000).toISOString().slice(0, 10);

/** What a record covers, in one sentence or two. */
export function recordWords({ hours, from, to, covered, gaps, withCloud, withGust }: RecordSpan): string {
  const most = gaps[0];
  const gap = most
    ? ` The longest gap is ${Math.round(most.hours / 24)} days from ${day(most.from)}.`
    : ' No gap is a day long.';
  const held = (share: number, what: string) =>
    share > 0 ? `${what} in ${formatShare(share)} of them` : `no ${what}`;
  return `${hours} hours from ${day(from)} to ${day(to)}, ${formatShare(covered)} of all; ${held(withCloud, 'cloud')}, ${held(withGust, 'gusts')}.${gap}`;
}

/** The winds a trail lies best to, and what it checks. */
export function trailWords({ winds }: { winds: readonly Omit<TrailWind, 'route'>[] }, units: Units): string {
  const liked = winds.toSorted((a, b) => b.into + b.across - (a.into + a.across));
  const [best] = liked;
  if (!best) return 'No wind can be judged along it.';
  const checked = winds.filter(({ checks }) => checks.length > 0);
  const beds = [...new Set(checks(checked))];
  const word = `Most of it into or across the wind from ${best.wind} (${formatShare(best.into)} into, ${formatShare(best.across)} across)`;
  if (beds.length === 0) return `${word}; it runs downwind of no bedding near enough to check.`;
  const near = Math.min(...checked.flatMap((each) => each.checks.map(({ distance }) => distance)));
  return `${word}; with wind from ${list(checked.map(({ wind }) => wind))} it checks ${list(beds)} (from ${formatLength(near, units)}).`;
}

const checks = (winds: readonly Omit<TrailWind, 'route'>[]) =>
  winds.flatMap((each) => each.checks.map(({ area }) => area));

const list = (words: readonly string[]): string =>
  words.length <= 1 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;

/** Which trail a proposal leans on. */
export function betweenWords(
  { route }: { route: string },
  trails: readonly { route: string; from: string; to: string }[],
): string {
  const trail = trails.find((each) => each.route === route);
  return trail ? `between ${trail.from} and ${trail.to}` : '';
}

/** What nobody can tell of a trail and a wind from the ground alone. */
const TRAIL_DOUBTS = [
  'Which way deer walk a trail on a day, and whether a buck checks bedding at all: that deer like the wind in the face or on the side is common practice, no source.',
  'The wind on the trail itself: the record’s wind is taken as it blows at the station, not bent by the ground or the drainage of a still night.',
  'Whether there are deer in the bedding, and how far one smells another.',
];
/** What coarse cells hide from the scent of a stand; nothing where they are fine enough. */
export const coarseNotes = ({ input: { frame, settings } }: OpenProperty): string[] =>
  frame.cellSize > COARSE
    ? [
        `Cells of ${formatLength(frame.cellSize, settings.units)} show no bank, bench or timber edge: where scent of one seat goes is told for the large forms only.`,
      ]
    : [];
export const trailDoubts = ({ input: { frame, settings } }: OpenProperty): string[] => [
  ...(frame.cellSize > COARSE
    ? [
        `Cells of ${formatLength(frame.cellSize, settings.units)} show no trail a deer would walk: these are large directions of travel only.`,
      ]
    : []),
  ...TRAIL_DOUBTS,
];
export const WAY_DOUBTS = [
  'Scent that boots and clothes leave on the ground and on brush is not in it.',
  'What lingers where air stands still is not added up from one minute to the next.',
  'The air of the day you walk: it is one hour under one wind. Eddies behind rises and timber edges have no way that is known.',
];
