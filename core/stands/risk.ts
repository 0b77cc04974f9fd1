import type { Carry, Pool } from '../air/types.ts';
import { cellAt, type Frame, type Grid } from '../grid/frame.ts';
import { type Meeting, meetingsAlong, type Travelled } from './meetings.ts';
import { ownerAt } from './ownership.ts';
import type { Subject } from './subjects.ts';
import type { StandRisk } from './types.ts';

/** Scent this far down the drainage still counts, m: our assumption. */
const SCENT_REACH = 500;
/** Cells coarser than this show no ground a stand decision could rest on, m. */
const COARSE = 30;

/** Length in the words the person reads, by kind of use. */
export interface Wording {
  distance(metres: number): string;
  height(metres: number): string;
  speed(metresPerSecond: number): string;
}

/**
 * What the still night and dawn do to one stand: whether it sits in a pool of cold air, whether its scent runs
 * with the drainage, where to, and what it meets on the way in the order it gets there.
 */
export function standRisk(
  subject: Subject,
  carry: Carry,
  air: { poolDepth: Grid; coldAir: Grid; pools: readonly Pool[] },
  travelled: Travelled,
  say: Wording,
): StandRisk {
  const { frame } = air.poolDepth;
  const i = cellAt(frame, subject.at[0], subject.at[1]);
  const poolDepth = air.poolDepth.cells[i]!;
  const inPool = poolDepth > 0;
  const meetings = meetingsAlong(carry.path, SCENT_REACH, travelled, subject.id);
  const known = !Number.isNaN(air.coldAir.cells[i]!);
  const level = levelOf(inPool, carry, meetings, known, frame);
  const owner = ownerAt(travelled.features, subject.at, Math.max(2, frame.cellSize / 2));
  return {
    id: `risk-${subject.id}`,
    subject: { type: subject.type, id: subject.id, name: subject.name },
    at: subject.at,
    level,
    inPool,
    poolDepth: known ? poolDepth : 0,
    carry: carry.path,
    meets: meetings.map(({ name }) => name),
    owner,
    verdict: verdictOf(inPool, carry, meetings, known, frame, say),
    reasons: known ? reasonsOf(subject, inPool, poolDepth, carry, meetings, air.pools, say) : [],
    doubts: doubtsOf(subject, carry, frame, say),
  };
}

function levelOf(
  inPool: boolean,
  carry: Carry,
  meetings: readonly Meeting[],
  known: boolean,
  frame: Frame,
): StandRisk['level'] {
  if (!known || frame.cellSize > COARSE) return 'unknown';
  if (inPool || meetings.some(({ kind }) => kind === 'bedding')) return 'high';
  if (carry.ends === 'stagnant' || carry.ends === 'pool') return 'caution';
  return meetings.some(({ kind }) => kind === 'corridor' || kind === 'neck') ? 'caution' : 'low';
}

function verdictOf(
  inPool: boolean,
  carry: Carry,
  meetings: readonly Meeting[],
  known: boolean,
  frame: Frame,
  say: Wording,
): string {
  if (!known) return 'No elevation here: nothing can be said of its air.';
  const coarse = frame.cellSize > COARSE ? 'Large forms only: ' : '';
  if (inPool)
    return `${coarse}${coarse ? 's' : 'S'}its in a pool of cold air: scent stays and spreads in it.`;
  const met =
    meetings.length === 0
      ? `meets no expected travel within ${say.distance(Math.min(SCENT_REACH, carry.length))}`
      : `meets ${list(meetings.map(({ name, after }) => `${name} after ${say.distance(after)}`))}`;
  if (carry.ends === 'stagnant' && carry.length < frame.cellSize * 2)
    return `${coarse}${coarse ? 't' : 'T'}he air hardly moves here on a still night: scent hangs round the stand.`;
  const end =
    carry.ends === 'pool'
      ? `into ${carry.pool ? carry.pool.replace('-', ' ') : 'a pool'}`
      : carry.ends === 'map edge'
        ? 'off the map'
        : 'and comes to rest';
  return `${coarse}${coarse ? 's' : 'S'}cent runs ${say.distance(carry.length)} down the drainage ${end}; ${met}.`;
}

function reasonsOf(
  subject: Subject,
  inPool: boolean,
  poolDepth: number,
  carry: Carry,
  meetings: readonly Meeting[],
  pools: readonly Pool[],
  say: Wording,
): string[] {
  const reasons: string[] = [];
  if (inPool)
    reasons.push(`Still air ${say.height(poolDepth)} deep stands over this spot by the end of the night.`);
  reasons.push(
    `The sliding layer is ${say.height(carry.layerDepth)} deep here and moves at ${say.speed(carry.speed)}.`,
  );
  if (subject.seatHeight !== null && !inPool) {
    reasons.push(
      subject.seatHeight < carry.layerDepth
        ? `The seat at ${say.height(subject.seatHeight)} is inside the sliding layer: its scent goes with it.`
        : `The seat at ${say.height(subject.seatHeight)} is above the sliding layer: its scent sinks into it late or drifts over it.`,
    );
  }
  for (const { kind, name, after, length, share } of meetings) {
    const travel =
      kind === 'corridor' || kind === 'neck' ? `, ${Math.round(100 * share)}% of all travel` : '';
    reasons.push(`It meets ${name} after ${say.distance(after)} (for ${say.distance(length)}${travel}).`);
  }
  const pool = carry.ends === 'pool' && pools.find(({ id }) => id === carry.pool);
  if (pool && !inPool)
    reasons.push(
      `It ends in ${pool.id.replace('-', ' ')}, ${say.height(pool.depth)} deep, after ${say.distance(carry.length)}.`,
    );
  return reasons;
}

function doubtsOf(subject: Subject, carry: Carry, frame: Frame, say: Wording): string[] {
  const doubts: string[] = [];
  if (frame.cellSize > COARSE)
    doubts.push(
      `Cells of ${say.distance(frame.cellSize)} do not show a creek bed, a small hollow or a saddle deer use: no level is given.`,
    );
  else if (frame.cellSize > 5)
    doubts.push(
      `Hollows and creek beds narrower than about ${say.distance(3 * frame.cellSize)} are not seen.`,
    );
  if (carry.ends === 'map edge' && carry.length < SCENT_REACH)
    doubts.push(
      `The drainage leaves the map after ${say.distance(carry.length)}: what it meets beyond is not known.`,
    );
  if (subject.proposed) doubts.push('The stand is proposed; the ground and cover are those of today.');
  doubts.push('Clear calm night and dawn only; wind and the hours after sunrise are not in this line.');
  return doubts;
}

const list = (words: string[]): string =>
  words.length <= 1 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words[words.length - 1]}`;
