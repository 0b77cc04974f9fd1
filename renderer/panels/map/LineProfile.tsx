import { formatLength, formatShare } from '../../../core/features/units.ts';
import type { ProfileAnswer } from '../../../electron/service/contract.ts';
import { along, profile as asked } from '../../state/measuring.ts';
import { units } from '../../state/session.ts';

const WIDTH = 520;
const HEIGHT = 150;
const TOP = 14;
const FLOOR = 112;
const STRIP = 12;
const LEFT = 46;
const RIGHT = 6;

type Place = ProfileAnswer['places'][number];
type Known = Place & { ground: number };

/** Stretches of places that share something, each with the place after it so that they meet. */
function stretches<T>(
  places: readonly Place[],
  of: (place: Place) => T,
): { value: T; from: number; to: number }[] {
  const found: { value: T; from: number; to: number }[] = [];
  places.forEach((place, n) => {
    const value = of(place);
    const last = found.at(-1);
    if (last && last.value === value) last.to = n;
    else {
      if (last) last.to = n;
      found.push({ value, from: n, to: n });
    }
  });
  return found;
}

/** The ground under a line with the cover on it, the straight look between its ends, and a place to read. */
export function LineProfile({ answer, straight }: { answer: ProfileAnswer; straight: boolean }) {
  const { places, length, covers, sight } = answer;
  const u = units.value;
  const known = places.filter((place): place is Known => place.ground !== null);
  const { observerHeight, targetHeight } = asked.asked.value ?? { observerHeight: 0, targetHeight: 0 };
  const [first, last] = [places[0]!.ground, places.at(-1)!.ground];
  const eye = straight && first !== null && last !== null ? first + observerHeight : null;
  const mark = eye === null ? null : last! + targetHeight;
  const low = Math.min(...known.map(({ ground }) => ground));
  const high = Math.max(...known.map(({ ground }) => ground), eye ?? low, mark ?? low);
  const x = (distance: number) => LEFT + (distance / Math.max(length, 0.01)) * (WIDTH - LEFT - RIGHT);
  const y = (height: number) => TOP + ((high - height) / Math.max(high - low, 1)) * (FLOOR - TOP);
  // How much taller a height is drawn than a length.
  const taller = (FLOOR - TOP) / Math.max(high - low, 1) / ((WIDTH - LEFT - RIGHT) / Math.max(length, 0.01));
  const here = along.value === null ? null : (places[along.value] ?? null);
  const sentence = `Profile: ground from ${formatLength(low, u, 'height')} to ${formatLength(Math.max(...known.map(({ ground }) => ground)), u, 'height')} over ${formatLength(length, u)}.`;
  return (
    <figure class="line-profile">
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} class="profile" role="img" aria-label={sentence}>
        <text x={LEFT - 4} y={y(high) + 4} text-anchor="end">
          {formatLength(high, u, 'height')}
        </text>
        <text x={LEFT - 4} y={FLOOR + 1} text-anchor="end">
          {formatLength(low, u, 'height')}
        </text>
        {stretches(places, ({ ground }) => ground !== null)
          .filter(({ value }) => value)
          .map(({ from, to }) => {
            const run = places.slice(from, to + 1).filter((place): place is Known => place.ground !== null);
            return (
              <path
                key={from}
                class="profile-ground"
                d={`M${run.map((place) => `${x(place.distance).toFixed(1)} ${y(place.ground).toFixed(1)}`).join('L')}V${FLOOR}H${x(run[0]!.distance).toFixed(1)}Z`}
              />
            );
          })}
        {stretches(places, ({ cover }) => cover)
          .filter(({ value, from, to }) => value !== null && to > from)
          .map(({ value, from, to }) => (
            <rect
              key={from}
              class="profile-cover"
              x={x(places[from]!.distance)}
              width={Math.max(0.5, x(places[to]!.distance) - x(places[from]!.distance))}
              y={FLOOR + 2}
              height={STRIP}
              fill={covers[value!]!.colour}
            />
          ))}
        {eye !== null && (
          <line
            class={sight.visible ? 'profile-line' : 'profile-line hidden'}
            x1={x(0)}
            y1={y(eye)}
            x2={x(length)}
            y2={y(mark!)}
          />
        )}
        {here && (
          <line
            class="profile-here"
            x1={x(here.distance)}
            x2={x(here.distance)}
            y1={TOP}
            y2={FLOOR + STRIP}
          />
        )}
        <text x={LEFT} y={HEIGHT - 4}>
          start
        </text>
        <text x={WIDTH - RIGHT} y={HEIGHT - 4} text-anchor="end">
          {formatLength(length, u)}
        </text>
        <text x={(LEFT + WIDTH) / 2} y={HEIGHT - 4} text-anchor="middle" class="profile-faint">
          heights {taller >= 9.5 ? Math.round(taller) : taller.toFixed(1)} times
        </text>
      </svg>
      <input
        class="along"
        type="range"
        min="0"
        max={places.length - 1}
        step="1"
        value={along.value ?? 0}
        aria-label="Place along the line"
        aria-valuetext={here ? hereWords(here, answer) : 'start'}
        onInput={(event) => {
          along.value = event.currentTarget.valueAsNumber;
        }}
      />
      <figcaption>
        {here ? (
          hereWords(here, answer)
        ) : (
          <span class="hint">Move the slider to read a place along the line.</span>
        )}
      </figcaption>
      {covers.length > 0 && (
        <ul class="cover-key" aria-label="Cover under the line">
          {covers.map(({ label, colour, pattern, share }) => (
            <li key={label}>
              <span class={`swatch ${pattern}`} style={{ backgroundColor: colour }} /> {label}{' '}
              {formatShare(share)}
            </li>
          ))}
        </ul>
      )}
    </figure>
  );
}

/** `210 yd along: 842 ft, ground 12° steep, line rises 8 %, deciduous timber` */
function hereWords(place: Place, { covers }: ProfileAnswer): string {
  const u = units.value;
  const grade = place.grade === null ? null : Math.round(place.grade * 100);
  return [
    `${formatLength(place.distance, u)} along: ${place.ground === null ? 'ground not known' : formatLength(place.ground, u, 'height')}`,
    place.slope === null ? null : `ground ${place.slope.toFixed(0)}° steep`,
    grade === null
      ? null
      : `line ${grade > 0 ? `rises ${grade} %` : grade < 0 ? `falls ${-grade} %` : 'level'}`,
    place.cover === null ? null : covers[place.cover]!.label.toLowerCase(),
  ]
    .filter((part) => part !== null)
    .join(', ');
}
