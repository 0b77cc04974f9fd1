import { DAY_PARTS, type DayPart } from '../air/season.ts';
import { formatShare } from '../features/units.ts';
import type { ScentCase } from './scent-study.ts';

/** What a season's winds make of a stand. Shares are of the hours of each part of the day; null without a record. */
export interface ScentSummary {
  stand: string;
  parts: {
    part: DayPart;
    /** Hours in which its scent meets hardly any travel and no bedding. */
    clean: number | null;
    /** The winds of those hours, and of the others, the likeliest first. */
    good: string[];
    bad: string[];
  }[];
  /** Its scent in the calm before sunrise and under the likeliest midday wind goes opposite ways. */
  flips: boolean;
  /** One line each: pools and drainage at dawn, turns, what spoils it. */
  risks: string[];
}

/** Travel that may meet the scent in an hour that still counts as clean: our assumption. */
const CLEAN = 0.05;
/** A part of the day with a smaller share of clean hours is a risk of its own. */
const SELDOM = 0.25;
/** Ways farther apart than this are opposite, degrees. */
const OPPOSITE = 100;

/** Scent that hangs round the stand is not clean: the deer it is for walk into it. */
const isClean = ({ finding }: ScentCase): boolean =>
  !finding.hangs && finding.travel.usual <= CLEAN && finding.bedding.length === 0;

/** @param cases of one stand, as `scentStudy` gives them */
export function summarize(cases: readonly ScentCase[]): ScentSummary {
  const parts = DAY_PARTS.map((part) => {
    const here = cases
      .filter((each) => each.part === part)
      .sort((a, b) => (b.share.share ?? 0) - (a.share.share ?? 0));
    const counted = here.filter(({ share }) => share.share !== null);
    return {
      part,
      clean:
        counted.length > 0 ? counted.filter(isClean).reduce((sum, { share }) => sum + share.share!, 0) : null,
      good: here.filter(isClean).map(({ wind }) => wind),
      bad: here.filter((each) => !isClean(each)).map(({ wind }) => wind),
    };
  });
  const dawn = cases.find(({ part, wind }) => part === 'before sunrise' && wind === 'calm');
  const midday = likeliest(cases.filter(({ part, wind }) => part === 'midday' && wind !== 'calm'));
  const evening = likeliest(cases.filter(({ part, wind }) => part === 'evening' && wind !== 'calm'));
  const flips = turned(dawn, midday);
  const risks: string[] = [];
  if (dawn && dawn.finding.bedding.length > 0)
    risks.push(
      `In the calm before sunrise its scent drains into bedding (${dawn.finding.bedding.join(', ')}).`,
    );
  if (dawn?.finding.hangs)
    risks.push('In the calm before sunrise its air stands still: scent gathers round the stand.');
  if (flips)
    risks.push('Its scent turns round between dawn and midday: plan to leave, or come in after the turn.');
  if (turned(dawn, evening))
    risks.push(
      `It flips between morning and evening: the calm before sunrise and the likeliest evening wind, from ${evening!.wind}, carry its scent opposite ways.`,
    );
  for (const { part, clean } of parts) {
    if (clean === null || clean >= SELDOM) continue;
    const hours = part === 'before sunrise' ? 'hours before sunrise' : `${part} hours`;
    risks.push(
      clean === 0 ? `Never clean in the ${hours}.` : `Clean in only ${formatShare(clean)} of the ${hours}.`,
    );
  }
  return { stand: cases[0]?.stand ?? '', parts, flips, risks };
}

/** Whether two cases carry scent opposite ways. */
function turned(one: ScentCase | undefined, other: ScentCase | undefined): boolean {
  if (!one || !other || one.finding.carry.usual === 0 || other.finding.carry.usual === 0) return false;
  return apart(one.finding.bearing, other.finding.bearing) > OPPOSITE;
}

function likeliest(cases: readonly ScentCase[]): ScentCase | undefined {
  return cases.reduce<ScentCase | undefined>(
    (best, each) => (best && (best.share.share ?? 0) >= (each.share.share ?? 0) ? best : each),
    undefined,
  );
}

const apart = (a: number, b: number): number => Math.abs(((a - b + 540) % 360) - 180);
