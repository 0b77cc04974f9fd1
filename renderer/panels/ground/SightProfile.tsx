import { formatLength } from '../../../core/features/units.ts';
import type { SightlineAnswer } from '../../../electron/service/contract.ts';
import { units } from '../../state/session.ts';

const WIDTH = 320;
const HEIGHT = 120;
const MARGIN = { left: 4, right: 4, top: 16, bottom: 16 };

/**
 * The ground under a line of sight, heights drawn larger than lengths, and the straight line over it. Where the
 * ground is not known the profile has a gap.
 */
export function SightProfile(props: { answer: SightlineAnswer; observer: number; target: number }) {
  const { answer, observer, target } = props;
  const { profile, length, obstruction } = answer;
  const first = profile[0]?.ground ?? null;
  const last = profile.at(-1)?.ground ?? null;
  const heights = profile.flatMap(({ ground }) => ground ?? []);
  if (first === null || last === null || length === 0) return null;
  const [eye, mark] = [first + observer, last + target];
  const low = Math.min(...heights);
  const high = Math.max(...heights, eye, mark);
  const x = (distance: number) => MARGIN.left + (distance / length) * (WIDTH - MARGIN.left - MARGIN.right);
  const y = (height: number) =>
    MARGIN.top + ((high - height) / Math.max(high - low, 1)) * (HEIGHT - MARGIN.top - MARGIN.bottom);
  const u = units.value;
  const blockedAt = obstruction && nearest(profile, obstruction.distance);
  return (
    <svg class="profile" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={answer.sentence}>
      {runs(profile).map((run) => (
        <path
          key={run[0]!.distance}
          class="profile-ground"
          d={`M${run.map(({ distance, ground }) => `${x(distance).toFixed(1)} ${y(ground).toFixed(1)}`).join('L')}V${HEIGHT - MARGIN.bottom}H${x(run[0]!.distance).toFixed(1)}Z`}
        />
      ))}
      <line
        class={answer.visible ? 'profile-line' : 'profile-line hidden'}
        x1={x(0)}
        y1={y(eye)}
        x2={x(length)}
        y2={y(mark)}
      />
      <circle class="profile-end" cx={x(0) + 2} cy={y(eye)} r="4" />
      <circle class="profile-end" cx={x(length) - 2} cy={y(mark)} r="4" />
      {blockedAt && blockedAt.ground !== null && (
        <g class="profile-block">
          <path
            d={`M${x(blockedAt.distance)} ${y(blockedAt.ground) + 1}l-6-10h12Z`}
            data-distance={Math.round(obstruction.distance)}
          />
          <text
            x={Math.min(Math.max(x(blockedAt.distance), 30), WIDTH - 30)}
            y={Math.max(y(blockedAt.ground) - 12, 11)}
            text-anchor="middle"
          >
            hides it
          </text>
        </g>
      )}
      <text x={MARGIN.left} y={HEIGHT - 3}>
        eye
      </text>
      <text x={WIDTH - MARGIN.right} y={HEIGHT - 3} text-anchor="end">
        {formatLength(length, u)}
      </text>
    </svg>
  );
}

type Known = { distance: number; ground: number };

/** Stretches of known ground. */
function runs(profile: SightlineAnswer['profile']): Known[][] {
  const found: Known[][] = [];
  let run: Known[] | null = null;
  for (const { distance, ground } of profile) {
    if (ground === null) {
      run = null;
      continue;
    }
    if (!run) {
      run = [];
      found.push(run);
    }
    run.push({ distance, ground });
  }
  return found;
}

const nearest = (profile: SightlineAnswer['profile'], distance: number) =>
  profile.reduce((best, place) =>
    Math.abs(place.distance - distance) < Math.abs(best.distance - distance) ? place : best,
  );
