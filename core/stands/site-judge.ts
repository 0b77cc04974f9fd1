import { type Feature, ofKind } from '../features/feature.ts';
import { ringsOf } from '../features/shapes.ts';
import { formatLength, formatShare, type Units } from '../features/units.ts';
import { bearingOf } from '../grid/bearing.ts';
import type { Point } from '../grid/frame.ts';
import { footOn } from '../travel/barriers.ts';
import { boundaryRings, isInside } from '../travel/owner.ts';
import type { Junction, Neck } from '../travel/types.ts';
import type { StandCases } from './case-verdict.ts';
import type { Sitting } from './compare.ts';
import type { SiteSpot } from './site-spots.ts';
import type { SiteTravel } from './site-travel.ts';
import type { Sector } from './types.ts';
import type { PartVerdict } from './verdict.ts';

/** Why a spot is not proposed. */
export type SiteFault =
  | 'owner'
  | 'seat'
  | 'quiet'
  | 'taken'
  | 'reach'
  | 'scent'
  | 'way'
  | 'backstop'
  | 'less';

/** A spot looked at in full. */
export interface JudgedSite extends Sitting {
  seat: SiteSpot['seat'];
  /** Of the travel in clear view, the share with ground close behind the deer; null where none is in view. */
  backed: number | null;
  /** Mean share of travel met clean over the hours of light whose way in is clean, times `backed`: what ranks sites. */
  value: number;
  /** The same were every way in clean. */
  potential: number;
  faults: { key: SiteFault; sentence: string }[];
  reasons: string[];
}

interface Landmarks {
  necks: readonly Neck[];
  junctions: readonly Junction[];
  features: readonly Feature[];
}

/** A drawn boundary is no survey: nearer to it than this is said, m. Our assumption. */
const AT_LINE = 25;
/** Fewer hours a week than this are not worth a site: our assumption. */
const LEAST_HOURS = 2;
/** Of the travel in view, the least that must have ground close behind it: our assumption. */
const LEAST_BACKED = 0.5;
/** Of all travel, the least that must come in reach and view at some part of the day: our assumption. */
const LEAST_REACH = 0.01;

/** Of the travel in view from a spot, the share that is in sectors whose every line ground stops close behind the deer. */
export function backedShare(
  travel: SiteTravel,
  at: Point,
  range: number,
  inView: (place: Point) => boolean,
  sectors: readonly Sector[],
): number | null {
  const seen = new Map<number, { places: number; backed: number }>();
  travel.visit(at, range, (k) => {
    const place: Point = [travel.x[k]!, travel.y[k]!];
    if (!inView(place)) return;
    const bearing = bearingOf(place[0] - at[0], place[1] - at[1]);
    const sector = sectors.find(({ from, to }) => bearing >= from && bearing < to);
    const sum = seen.get(travel.route[k]!) ?? { places: 0, backed: 0 };
    sum.places++;
    if (sector?.state === 'checked') sum.backed++;
    seen.set(travel.route[k]!, sum);
  });
  let [all, backed] = [0, 0];
  for (const [route, sum] of seen) {
    const { share } = travel.routes[route]!;
    all += share;
    backed += (share * sum.backed) / sum.places;
  }
  return all > 0 ? backed / all : null;
}

/** Hours a week of a part of the day that its wind allows; without a record every wind counts alike. */
export const huntedHours = ({ lawful, hours, winds, spoilt }: PartVerdict): number =>
  hours ? hours.usual : (lawful * winds.length) / Math.max(1, winds.length + spoilt.length);

/** What a part of the day adds to the mean clean share: hours hunted times what is then met clean. */
const partWorth = (each: PartVerdict): number => huntedHours(each) * (each.clean ?? 0);

/** Adds to what was computed of a spot what it is worth as a site, and what is wrong with it. */
export function judgeSite(
  sitting: Sitting & Pick<JudgedSite, 'seat'>,
  backed: number | null,
  landmarks: Landmarks,
  units: Units,
): JudgedSite {
  const { verdict, ways } = sitting;
  const lawful = verdict.parts.reduce((sum, part) => sum + part.lawful, 0);
  const usable = verdict.parts.filter(({ part }) => ways.find((way) => way.part === part)?.clean !== false);
  const worthOf = (parts: readonly PartVerdict[]): number =>
    lawful > 0 ? (parts.reduce((sum, part) => sum + partWorth(part), 0) / lawful) * (backed ?? 0) : 0;
  return {
    ...sitting,
    backed,
    value: worthOf(usable),
    potential: worthOf(verdict.parts),
    faults: faultsOf(sitting, backed),
    reasons: reasonsOf(sitting, backed, landmarks, units),
  };
}

function faultsOf({ cases, verdict, reach, ways }: Sitting, backed: number | null): JudgedSite['faults'] {
  const faults: JudgedSite['faults'] = [];
  if (mostReach(cases) < LEAST_REACH || backed === null)
    faults.push({ key: 'reach', sentence: 'Hardly any travel comes in range and clear view.' });
  else if (verdict.best === null || (verdict.hours !== null && verdict.hours.usual < LEAST_HOURS)) {
    const [first] = verdict.spoils;
    faults.push({
      key: 'scent',
      sentence: `No wind to hunt it in: ${first ? `${first.cause}, ${first.hours.toFixed(0)} h a week` : 'scent'}.`,
    });
  }
  const asked = ways.filter(({ clean }) => clean !== null);
  if (asked.length > 0 && asked.every(({ clean }) => clean === false)) {
    const walk = asked.flatMap(({ walks }) => walks).find(({ clean }) => clean === false)!;
    faults.push({ key: 'way', sentence: walk.verdict });
  }
  if (backed !== null && backed < LEAST_BACKED) {
    const worst = worstSector(reach.fire.sectors);
    faults.push({
      key: 'backstop',
      sentence: `Only ${formatShare(backed)} of the travel in view has ground close behind it${worst ? `: ${lowered(worst)}` : '.'}`,
    });
  }
  return faults;
}

const mostReach = ({ reach }: StandCases): number =>
  Math.max(0, ...Object.values(reach).map((share) => share ?? 0));

const lowered = (text: string): string => text[0]!.toLowerCase() + text.slice(1);

const worstSector = (sectors: readonly Sector[]): string | null =>
  (['closed', 'open', 'unknown'] as const)
    .map((worst) => sectors.find(({ state }) => state === worst))
    .find((sector) => sector !== undefined)?.reasons[0] ?? null;

function reasonsOf(
  { reach, verdict, ways, spot }: Sitting,
  backed: number | null,
  { necks, junctions, features }: Landmarks,
  units: Units,
): string[] {
  const reasons: string[] = [];
  for (const kind of ['neck', 'junction'] as const) {
    const known = kind === 'neck' ? necks : junctions;
    const best = reach.passings
      .filter((passing) => passing.kind === kind && passing.seen)
      .flatMap((passing) => {
        const place = known.find(({ id }) => id === passing.id);
        return place ? [{ passing, place }] : [];
      })
      .sort((a, b) => b.place.share - a.place.share)[0];
    if (best)
      reasons.push(
        `${kind === 'neck' ? 'Neck' : 'Junction'} ${best.place.rank} is in clear view at ${formatLength(best.passing.nearest.slant, units)}; ${formatShare(best.place.share)} of all travel passes it.`,
      );
  }
  const most = Math.max(0, ...verdict.parts.map((part) => part.reach ?? 0));
  reasons.push(
    `Up to ${formatShare(most)} of the travel of a part of the day comes within ${formatLength(spot.range, units)} and in clear view.`,
  );
  reasons.push(...verdict.sentences.slice(0, 2));
  const clean = ways.flatMap(({ part, clean: whole, walks }) => (whole ? [{ part, walks }] : []));
  if (clean.length > 0)
    reasons.push(
      `${clean[0]!.walks[0]!.verdict} That holds for: ${clean.map(({ part }) => part).join(', ')}.`,
    );
  if (backed !== null)
    reasons.push(
      `Ground stops the line close behind the deer for ${formatShare(backed)} of the travel in view; this is what was checked, and says of no shot that it is safe.`,
    );
  const line = Math.min(
    ...boundaryRings(features).map((ring) => footOn(ring, spot.at)?.distance ?? Number.POSITIVE_INFINITY),
  );
  if (line < AT_LINE)
    reasons.push(
      `The property line as it is drawn runs ${formatLength(line, units)} away: have it surveyed before anything is hung.`,
    );
  const field = ofKind(features, 'crop', 'food').find(({ geometry }) => isInside(ringsOf(geometry), spot.at));
  if (field) reasons.push(`It stands in ${field.name ?? 'a field'}: agree with whoever works it.`);
  if (reach.concealment.directions.length > 0) reasons.push(...reach.concealment.sentences.slice(0, 2));
  return reasons;
}
