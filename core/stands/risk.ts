import type { Carry, Pool } from '../air/types.ts';
import { capital, formatLength, formatShare, formatSpeed, type Units } from '../features/units.ts';
import { cellAt, type Frame, type Grid } from '../grid/frame.ts';
import { boundaryRings, ownerOf } from '../travel/owner.ts';
import { COARSE } from './coarse.ts';
import { type CreekRun, creekRun } from './creek-run.ts';
import type { CreekWater } from './creek-stage.ts';
import { type Meeting, meetingsAlong, type Travelled } from './meetings.ts';
import type { Subject } from './subjects.ts';
import type { StandRisk } from './types.ts';

/** Scent this far down the drainage still counts, m: our assumption. */
const SCENT_REACH = 500;

/** One stand's case as it is judged: what it is, where its scent goes and what that meets. */
interface Case {
  subject: Subject;
  carry: Carry;
  meetings: Meeting[];
  creek: CreekRun | null;
  /** m; NaN where there is no elevation. */
  poolDepth: number;
  pools: readonly Pool[];
  frame: Frame;
  units: Units;
}

/**
 * What the still night and dawn do to one stand: whether it sits in a pool of cold air, whether its scent runs
 * with the drainage, where to, and what it meets on the way in the order it gets there.
 */
export function standRisk(
  subject: Subject,
  carry: Carry,
  air: { poolDepth: Grid; pools: readonly Pool[] },
  travelled: Travelled & { water?: CreekWater },
  units: Units,
): StandRisk {
  const { frame, cells } = air.poolDepth;
  const meetings = meetingsAlong(carry.path, SCENT_REACH, travelled, subject.id);
  const poolDepth = cells[cellAt(frame, subject.at[0], subject.at[1])]!;
  const creek = creekRun(carry.path, travelled.channels, travelled.features, units, travelled.water);
  const given: Case = { subject, carry, meetings, creek, poolDepth, pools: air.pools, frame, units };
  return {
    id: `risk-${subject.id}`,
    subject: { type: subject.type, id: subject.id, name: subject.name },
    at: subject.at,
    level: levelOf(given),
    inPool: poolDepth > 0,
    poolDepth: Number.isNaN(poolDepth) ? 0 : poolDepth,
    carry: carry.path,
    meets: meetings.map(({ name }) => name),
    owner: ownerOf(boundaryRings(travelled.features), [subject.at], Math.max(2, frame.cellSize / 2)),
    verdict: verdictOf(given),
    reasons: reasonsOf(given),
    doubts: doubtsOf(given),
  };
}

function levelOf({ carry, meetings, poolDepth, frame }: Case): StandRisk['level'] {
  if (Number.isNaN(poolDepth) || frame.cellSize > COARSE) return 'unknown';
  if (poolDepth > 0 || meetings.some(({ kind }) => kind === 'bedding')) return 'high';
  if (carry.ends === 'stagnant' || carry.ends === 'pool') return 'caution';
  return meetings.some(({ kind }) => kind === 'corridor' || kind === 'neck') ? 'caution' : 'low';
}

function verdictOf({ carry, meetings, poolDepth, frame, units }: Case): string {
  if (Number.isNaN(poolDepth)) return 'No elevation here: nothing can be said of its air.';
  const sentence = (text: string) => (frame.cellSize > COARSE ? `Large forms only: ${text}` : capital(text));
  if (poolDepth > 0)
    return sentence(
      `sits in still cold air ${formatLength(poolDepth, units, 'height')} deep: scent stays and spreads in it.`,
    );
  if (carry.ends === 'stagnant' && carry.length < 2 * frame.cellSize)
    return sentence('the air hardly moves here on a still night: scent hangs round the stand.');
  const met =
    meetings.length === 0
      ? `meets no expected travel within ${formatLength(Math.min(SCENT_REACH, carry.length), units)}`
      : `meets ${list(meetings.map(({ name, after }) => `${name} ${atOrAfter(after, units)}`))}`;
  const end = {
    pool: `into ${carry.pool?.replace('-', ' ') ?? 'a pool'}`,
    'map edge': 'off the map',
    stagnant: 'and comes to rest',
  }[carry.ends];
  return sentence(`scent runs ${formatLength(carry.length, units)} down the drainage ${end}; ${met}.`);
}

function reasonsOf({ subject, carry, meetings, creek, poolDepth, pools, units }: Case): string[] {
  if (Number.isNaN(poolDepth)) return [];
  const height = (metres: number) => formatLength(metres, units, 'height');
  const reasons: string[] = [];
  if (poolDepth > 0)
    reasons.push(`Still air ${height(poolDepth)} deep stands over this spot by the end of the night.`);
  reasons.push(
    `The sliding layer is ${height(carry.layerDepth)} deep here and moves at ${formatSpeed(carry.speed, units)}.`,
  );
  if (subject.seatHeight !== null && poolDepth === 0)
    reasons.push(
      subject.seatHeight < carry.layerDepth
        ? `The seat at ${height(subject.seatHeight)} is inside the sliding layer: its scent goes with it.`
        : `The seat at ${height(subject.seatHeight)} is above the sliding layer: its scent sinks into it late or drifts over it.`,
    );
  for (const { kind, name, after, length, share } of meetings) {
    const travel = kind === 'corridor' || kind === 'neck' ? `, ${formatShare(share)} of all travel` : '';
    reasons.push(`It meets ${name} ${atOrAfter(after, units)}, for ${formatLength(length, units)}${travel}.`);
  }
  if (creek) {
    const from = `The carry comes to the creek ${atOrAfter(creek.after, units)}`;
    if (creek.held === 0) reasons.push(`${from}; ${creek.ends?.holding.words}${valuesOf(creek.ends)}.`);
    else {
      const ends =
        creek.ends &&
        `, until ${atOrAfter(creek.ends.after, units)}: ${creek.ends.holding.words}${valuesOf(creek.ends)}`;
      reasons.push(`${from} and stays below its banks for ${formatLength(creek.held, units)}${ends ?? ''}.`);
    }
  }
  const pool = carry.ends === 'pool' && pools.find(({ id }) => id === carry.pool);
  if (pool && poolDepth === 0)
    reasons.push(
      `It ends in ${pool.id.replace('-', ' ')}, ${height(pool.depth)} deep, after ${formatLength(carry.length, units)}${carry.spills ? '; it stands at its sill, so that what follows runs over there' : ''}.`,
    );
  return reasons;
}

const valuesOf = (ends: CreekRun['ends']): string =>
  ends && ends.holding.values !== '' ? ` [${ends.holding.values}]` : '';

function doubtsOf({ subject, carry, frame, units }: Case): string[] {
  const distance = (metres: number) => formatLength(metres, units);
  const doubts: string[] = [];
  if (frame.cellSize > COARSE)
    doubts.push(
      `Cells of ${distance(frame.cellSize)} do not show a creek bed, a small hollow or a saddle deer use: no level is given.`,
    );
  else if (frame.cellSize > 5)
    doubts.push(`Hollows and creek beds narrower than about ${distance(3 * frame.cellSize)} are not seen.`);
  if (carry.ends === 'map edge' && carry.length < SCENT_REACH)
    doubts.push(
      `The drainage leaves the map after ${distance(carry.length)}: what it meets beyond is not known.`,
    );
  if (subject.proposed) doubts.push('The stand is proposed; the ground and cover are those of today.');
  doubts.push('Clear calm night and dawn only; wind and the hours after sunrise are not in this line.');
  return doubts;
}

const atOrAfter = (after: number, units: Units): string =>
  after === 0 ? 'at once' : `after ${formatLength(after, units)}`;

const list = (words: string[]): string =>
  words.length <= 1 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words[words.length - 1]}`;
