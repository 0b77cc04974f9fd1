import type { HourCell } from '../../../electron/service/contract.ts';

/** How wide an hour and how high a day is drawn. */
const HOUR = 12;
const HIGH = 20;

/**
 * The hours of a day side by side: as wide as their light is lawful, filled from the foot as high as the share of good
 * winds, so that the filled area is the time that can be hunted. Hidden from readers: the button it is in says it.
 */
export function HourStrip({
  cells,
  first,
  last,
}: {
  cells: readonly HourCell[];
  first: number;
  last: number;
}) {
  const width = (last - first) * HOUR;
  return (
    <svg class="hour-strip" viewBox={`0 0 ${width} ${HIGH}`} preserveAspectRatio="none" aria-hidden="true">
      {cells.map((cell) => (
        <Hour key={cell.hour} cell={cell} x={(cell.hour - first) * HOUR} />
      ))}
    </svg>
  );
}

function Hour({ cell: { from, to, state, share }, x }: { cell: HourCell; x: number }) {
  const left = x + (from / 60) * HOUR;
  const wide = Math.max(0.5, ((to - from) / 60) * HOUR);
  const box = { x: left, width: wide };
  const known = share !== null;
  const kind = state === 'open' && !known ? 'unknown' : state;
  const full = known ? share.usual * HIGH : 0;
  const most = known ? share.high * HIGH : 0;
  return (
    <>
      <rect class={`hour-light ${kind}`} {...box} y="0" height={HIGH} />
      {most > full && <rect class="hour-most" {...box} y={HIGH - most} height={most - full} />}
      {full > 0 && <rect class="hour-good" {...box} y={HIGH - full} height={full} />}
      <line class="hour-edge" x1={left} x2={left} y1="0" y2={HIGH} />
      {kind === 'rest' &&
        [0.25, 0.75].map((part) => (
          <line
            key={part}
            class="hour-mark"
            x1={left + wide * (part - 0.2)}
            x2={left + wide * (part + 0.2)}
            y1={HIGH - 4}
            y2="4"
          />
        ))}
      {kind === 'closed' && (
        <>
          <line class="hour-mark" x1={left + wide * 0.2} x2={left + wide * 0.8} y1="5" y2={HIGH - 5} />
          <line class="hour-mark" x1={left + wide * 0.2} x2={left + wide * 0.8} y1={HIGH - 5} y2="5" />
        </>
      )}
      {(kind === 'unknown' || kind === 'unjudged') && (
        <text class="hour-unknown" x={left + wide / 2} y={HIGH / 2 + 4}>
          ?
        </text>
      )}
    </>
  );
}

/** The clock over the strips. */
export function HourAxis({ first, last, zone }: { first: number; last: number; zone: string }) {
  const width = last - first;
  const every = width > 15 ? 4 : 3;
  const marks = Array.from({ length: width + 1 }, (_, k) => first + k).filter((hour) => hour % every === 0);
  return (
    <div class="hours-axis" aria-hidden="true">
      <span class="unit">{zone}</span>
      <div class="hours-clock">
        {marks.map((hour) => (
          <span key={hour} style={{ left: `${(100 * (hour - first)) / width}%` }}>
            {String(hour % 24).padStart(2, '0')}
          </span>
        ))}
      </div>
      <span class="unit">good</span>
    </div>
  );
}

const whole = { hour: 0, from: 0, to: 60, chances: [] };
const KEY: { cell: HourCell; says: string }[] = [
  {
    cell: { ...whole, state: 'open', share: { usual: 0.45, low: 0.3, high: 0.7 } },
    says: 'lawful; filled as high as the wind is good, faintly for a nose that is less keen',
  },
  { cell: { ...whole, state: 'none', share: null }, says: 'lawful, no wind is good' },
  { cell: { ...whole, state: 'rest', share: null }, says: 'the stand rests' },
  { cell: { ...whole, state: 'closed', share: null }, says: 'closed ground' },
  { cell: { ...whole, state: 'unjudged', share: null }, says: 'not known' },
];

/** What the hours of a strip look like. */
export function StripKey() {
  return (
    <ul class="strip-key">
      {KEY.map(({ cell, says }) => (
        <li key={says}>
          <svg class="hour-strip" viewBox={`0 0 ${HOUR} ${HIGH}`} aria-hidden="true">
            <Hour cell={cell} x={0} />
          </svg>
          {says}
        </li>
      ))}
      <li>
        <span class="hours-sat" aria-hidden="true" />a sit is written down
      </li>
    </ul>
  );
}
