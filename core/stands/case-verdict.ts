import { windowRound } from '../air/near-ground.ts';
import { type DayPart, type Interval, wilson } from '../air/season.ts';
import type { stabilityOf } from '../air/stability.ts';
import { formatShare } from '../features/units.ts';
import type { Grid } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';
import {
  type Band,
  type BothWays,
  bothWays,
  cleanBand,
  type Fate,
  fateOf,
  firstScent,
  isClean,
  type Walk,
  walkRoutes,
} from './clean-share.ts';
import type { HuntSettings } from './hunt-settings.ts';
import { airHangs, beddingIn, NOSE_THRESHOLD, REACH, thinning } from './scent.ts';
import { airOfCase, type SeasonAir, type StudyInputs, seedOfCase, WINDS } from './scent-study.ts';
import type { WayTaken } from './stand-ways.ts';
import type { Subject } from './subjects.ts';

/** Parts of the day that can have lawful light. */
export const HUNTED = ['before sunrise', 'morning', 'midday', 'evening'] as const satisfies DayPart[];
export type HuntedPart = (typeof HUNTED)[number];

/** One stand under one wind at one part of the day. */
export interface CaseVerdict {
  part: HuntedPart;
  /** One of the 16 points, or `calm`. */
  wind: string;
  speed: number;
  /** Share of the season's hours of this part with this wind; null without a record. */
  share: Interval;
  air: ReturnType<typeof stabilityOf>;
  /** What becomes of the travel expected then, for the usual nose; null where none is expected. */
  fate: Fate | null;
  /** The clean share with its band. */
  clean: Band | null;
  /** Travel of unknown direction that comes in reach one way or the other. */
  directions: BothWays[];
  bedding: string[];
  hangs: boolean;
  /** The travel that meets the scent first most: from, to, and its share of what is expected. */
  spoilt: { from: string; to: string; share: number } | null;
  /** Whether it can be hunted: for the usual nose, a keener and a duller one. */
  hunt: { usual: boolean; keen: boolean; dull: boolean };
  /** One line. */
  why: string;
  /** The way in, and where it is looked at on its own the way out; left out where ways were not judged. */
  ways?: readonly WayTaken[];
}

/** Everything of one stand that its verdicts are made from. */
export interface StandCases {
  stand: { type: Subject['type']; id: string; name: string; at: Subject['at']; proposed: boolean };
  cases: CaseVerdict[];
  /** Of all travel of each part, what comes in reach and in view at all; null where none is expected. */
  reach: Record<HuntedPart, number | null>;
  /** How long a route stays in reach and view, on average by travel, s; NaN where none comes. */
  inView: number;
  /** Every route: its share and when it runs, the step it comes in reach, -1 never; and for every case where it first meets scent. */
  routes: Pick<Walk, 'share' | 'when'>[];
  reached: Int32Array;
  scented: Int32Array[];
  /** Cells of a deer's way to a step are this long, m. */
  spacing: number;
}

export interface CaseInputs extends StudyInputs {
  /** 1 where a deer is in reach of the stand and in view. */
  reach: Grid<Uint8Array>;
}

export interface CaseOptions {
  hunt: Pick<HuntSettings, 'pace' | 'spoilt' | 'alarm'>;
  /** Fewer particles and winds for a first look. */
  particles?: number;
  /** Indexes into WINDS; all when left out. */
  winds?: readonly number[];
  parts?: readonly HuntedPart[];
}

/** Less travel in reach than this is not worth a sit: our assumption. */
const LEAST_REACH = 0.01;

/** Travel that runs at a part of the day: what goes to bed at dawn, to food at dusk, and between at any hour. */
export function runsIn(when: Walk['when'], part: HuntedPart): boolean {
  if (when === 'any') return true;
  return when === 'dusk' ? part === 'evening' : part === 'before sunrise' || part === 'morning';
}

/**
 * The fate of all expected travel at one stand, under every wind at every part of the day: scent as in `scentStudy`,
 * and every route walked through it at the stated pace. The same for the same input.
 */
export function standCases(
  subject: Subject,
  inputs: CaseInputs,
  air: SeasonAir,
  { hunt, particles, winds = WINDS.map((_, k) => k), parts = HUNTED }: CaseOptions,
  progress: Progress = silent,
): StandCases {
  const { ground, reach, elevation } = inputs;
  const window = windowRound(elevation.frame, subject.at, REACH);
  const walks = walkRoutes(ground.routes, hunt.pace, reach, window);
  const found: StandCases = {
    stand: {
      type: subject.type,
      id: subject.id,
      name: subject.name,
      at: subject.at,
      proposed: subject.proposed,
    },
    cases: [],
    reach: {} as StandCases['reach'],
    inView: meanInView(walks),
    routes: walks.map(({ share, when }) => ({ share, when })),
    reached: Int32Array.from(walks, ({ reached }) => reached),
    scented: [],
    spacing: Math.min(reach.frame.cellSize, window.cellSize) / 2,
  };
  for (const part of HUNTED) {
    const now = walks.filter(({ when }) => runsIn(when, part));
    const fate = fateOf(now, new Int32Array(now.length).fill(-1));
    found.reach[part] = fate?.clean ?? null;
  }
  parts.forEach((part, p) => {
    for (const wind of winds) {
      const { near, kind, speed, share } = airOfCase(air, inputs, window, part, wind);
      const { dilution } = thinning(subject, near, kind, seedOfCase(part, wind), particles);
      const at = (threshold: number) => ({
        scent: firstScent(walks, dilution.cells, threshold),
        bedding: beddingIn(dilution, ground, threshold),
      });
      const noses = {
        usual: at(NOSE_THRESHOLD.usual),
        keen: at(NOSE_THRESHOLD.low),
        dull: at(NOSE_THRESHOLD.high),
      };
      found.scented.push(noses.usual.scent);
      found.cases.push({
        part,
        wind: WINDS[wind]!,
        speed,
        share,
        air: kind,
        ...judge(walks, part, noses, airHangs(near, subject.at), hunt),
      });
    }
    progress((p + 1) / parts.length);
  });
  return found;
}

interface Nose {
  scent: Int32Array;
  bedding: string[];
}

function judge(
  walks: readonly Walk[],
  part: HuntedPart,
  noses: Record<'usual' | 'keen' | 'dull', Nose>,
  hangs: boolean,
  hunt: CaseOptions['hunt'],
): Omit<CaseVerdict, 'part' | 'wind' | 'speed' | 'share' | 'air'> {
  const places = [...walks.keys()].filter((k) => runsIn(walks[k]!.when, part));
  const now = places.map((k) => walks[k]!);
  const of = ({ scent }: Nose) => Int32Array.from(places, (k) => scent[k]!);
  const scent = { usual: of(noses.usual), keen: of(noses.keen), dull: of(noses.dull) };
  const reasonOf = (nose: 'usual' | 'keen' | 'dull') =>
    reasonAgainst(fateOf(now, scent[nose]), noses[nose].bedding, hangs, hunt);
  const fate = fateOf(now, scent.usual);
  const against = reasonOf('usual');
  return {
    fate,
    clean: cleanBand(now, scent, wilson),
    directions: bothWays(now, scent.usual).filter(({ there, back }) => there > 0 || back > 0),
    bedding: noses.usual.bedding,
    hangs,
    spoilt: mostSpoilt(now, scent.usual),
    hunt: { usual: against === null, keen: reasonOf('keen') === null, dull: reasonOf('dull') === null },
    why:
      against ??
      `${formatShare(fate!.clean)} of the travel comes in reach and view before it meets the scent.`,
  };
}

/** Why a case is not to be hunted; null where it can be. */
export function reasonAgainst(
  fate: Fate | null,
  bedding: readonly string[],
  hangs: boolean,
  { spoilt, alarm }: Pick<HuntSettings, 'spoilt' | 'alarm'>,
): string | null {
  if (!fate) return 'No travel is expected at this part of the day.';
  const reach = fate.clean + fate.spoiled;
  if (reach < LEAST_REACH) return 'Hardly any travel comes in reach and view.';
  if (hangs) return 'The air hardly moves: scent hangs round the stand.';
  if (bedding.length > 0) return `The scent reaches bedding (${bedding.join(', ')}).`;
  if (fate.spoiled > spoilt * reach)
    return `Of the travel that would come in reach, ${formatShare(fate.spoiled / reach)} meets the scent first.`;
  if (fate.alarmed > alarm) return `${formatShare(fate.alarmed)} of all travel then meets the scent.`;
  return null;
}

function mostSpoilt(walks: readonly Walk[], scentAt: ArrayLike<number>): CaseVerdict['spoilt'] {
  const all = walks.reduce((sum, { share }) => sum + share, 0);
  const sums = new Map<string, NonNullable<CaseVerdict['spoilt']>>();
  walks.forEach((walk, k) => {
    if (walk.reached < 0 || isClean(walk, scentAt[k]!)) return;
    const key = `${walk.from}\u0000${walk.to}`;
    const sum = sums.get(key) ?? { from: walk.from, to: walk.to, share: 0 };
    sum.share += walk.share / all;
    sums.set(key, sum);
  });
  return [...sums.values()].reduce<CaseVerdict['spoilt']>(
    (most, each) => (most && most.share >= each.share ? most : each),
    null,
  );
}

function meanInView(walks: readonly Walk[]): number {
  let [sum, share] = [0, 0];
  for (const walk of walks) {
    if (walk.reached < 0) continue;
    sum += walk.share * walk.inView;
    share += walk.share;
  }
  return share > 0 ? sum / share : Number.NaN;
}
