import { hourAir } from '../../state/air-asks.ts';
import { asked, hour, play, playing, stepHour } from '../../state/air-clock.ts';
import { sunHours } from '../../state/sky.ts';
import { clockWords } from '../../words/air.ts';

const WIDTH = 240;

/** The hours of the day, dark before sunrise and after sunset; a slider, steps, and play. */
export function DayStrip() {
  const { rise, set, zone } = sunHours.value;
  const now = hour.value;
  const x = (at: number) => (at / 24) * WIDTH;
  const mark = (at: number) => (Number.isNaN(at) ? null : x(at));
  const [up, down] = [mark(rise), mark(set)];
  return (
    <div class="day-strip">
      <svg viewBox={`0 0 ${WIDTH} 30`} role="img" aria-label={sunWords(rise, set, zone)}>
        <rect class="strip-day" x="0" y="0" width={WIDTH} height="16" />
        {up !== null && <rect class="strip-night" x="0" y="0" width={up} height="16" />}
        {down !== null && <rect class="strip-night" x={down} y="0" width={WIDTH - down} height="16" />}
        {Array.from({ length: 24 }, (_, at) =>
          hourAir.has({ ...asked.value, hour: at }) ? (
            <circle key={at} class="strip-ready" cx={x(at + 0.5)} cy="12" r="1.4" />
          ) : null,
        )}
        <rect class="strip-now" x={x(now)} y="0.75" width={x(1)} height="14.5" />
        {[0, 6, 12, 18].map((at) => (
          <text key={at} x={x(at) + 1} y="27">
            {clockWords(at)}
          </text>
        ))}
      </svg>
      <input
        id="clock-hour"
        type="range"
        min="0"
        max="23"
        step="1"
        value={now}
        aria-label="Hour"
        aria-valuetext={`${clockWords(now)} ${zone}`}
        onInput={(event) => {
          playing.value = false;
          hour.value = event.currentTarget.valueAsNumber;
        }}
      />
      <div class="clock-steps">
        <button type="button" class="quiet" onClick={() => stepHour(-1)}>
          <span aria-hidden="true">−1 h</span>
          <span class="unseen">One hour back</span>
        </button>
        <output class="clock-face" for="clock-hour">
          {clockWords(now)} <span class="unit">{zone}</span>
        </output>
        <button type="button" class="quiet" onClick={() => stepHour(1)}>
          <span aria-hidden="true">+1 h</span>
          <span class="unseen">One hour on</span>
        </button>
        <button type="button" class={playing.value ? 'strong' : 'quiet'} onClick={play}>
          {playing.value ? 'Stop playing' : 'Play the day'}
        </button>
      </div>
    </div>
  );
}

const sunWords = (rise: number, set: number, zone: string): string =>
  Number.isNaN(rise) || Number.isNaN(set)
    ? 'The sun does not rise and set on this day.'
    : `Sunrise ${clockWords(rise)}, sunset ${clockWords(set)} ${zone}`;
