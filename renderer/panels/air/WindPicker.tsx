import { useEffect } from 'preact/hooks';
import { formatShare, MPH } from '../../../core/features/units.ts';
import { rose, windKey } from '../../state/air-asks.ts';
import { wind } from '../../state/air-clock.ts';
import { units } from '../../state/session.ts';
import { sectorOf, windWords } from '../../words/air.ts';
import { SectorOptions } from '../options.tsx';
import { partNow } from './day.ts';

/** Speed of a wind picked before one is known, m/s: our assumption, the one a silent record is given. */
const USUAL = 3;
const STRONGEST = 40;
const SHOWN = 4;

/** The wind of the station: a calm, a sector or bearing with a speed, or one of the season's common winds. */
export function WindPicker() {
  const { from, speed } = wind.value;
  const perUnit = units.value === 'us' ? MPH : 1;
  const calm = speed === 0;
  const exact = from % 22.5 !== 0;
  return (
    <fieldset class="wind-picker">
      <legend>Wind at the station</legend>
      <div class="ask-form">
        <label class="length" for="wind-from">
          <span>From</span>
          <select
            id="wind-from"
            value={calm ? 'calm' : exact ? 'exact' : String(from)}
            onChange={(event) => {
              const chosen = event.currentTarget.value;
              if (chosen === 'calm') wind.value = { from, speed: 0 };
              else if (chosen !== 'exact') wind.value = { from: Number(chosen), speed: calm ? USUAL : speed };
            }}
          >
            <option value="calm">calm</option>
            {exact && !calm && <option value="exact">as typed</option>}
            <SectorOptions />
          </select>
        </label>
        {!calm && (
          <>
            <label class="length" for="wind-bearing">
              <span>Degrees</span>
              <input
                class="short"
                id="wind-bearing"
                type="number"
                min="0"
                max="360"
                step="any"
                value={from}
                onChange={(event) => {
                  const typed = event.currentTarget.valueAsNumber;
                  if (typed >= 0 && typed <= 360) wind.value = { speed, from: typed % 360 };
                  else event.currentTarget.value = String(from);
                }}
              />
            </label>
            <label class="length" for="wind-speed">
              <span>{units.value === 'us' ? 'mph' : 'm/s'}</span>
              <input
                class="short"
                id="wind-speed"
                type="number"
                min="0"
                max={Math.round(STRONGEST / perUnit)}
                step="any"
                value={Number((speed / perUnit).toFixed(1))}
                onChange={(event) => {
                  const typed = event.currentTarget.valueAsNumber * perUnit;
                  if (typed >= 0 && typed <= STRONGEST) wind.value = { from, speed: typed };
                  else event.currentTarget.value = (speed / perUnit).toFixed(1);
                }}
              />
            </label>
          </>
        )}
        <Dial from={from} calm={calm} />
      </div>
      <CommonWinds />
    </fieldset>
  );
}

/** Winds that blow most in this part of the day in the season counted. */
function CommonWinds() {
  useEffect(() => {
    if (!rose.asked.peek() && rose.progress.peek() === null) void rose.put({});
  }, [windKey.value]);
  const now = partNow.value;
  const part = rose.answer.value?.parts?.find((each) => each.part === now);
  if (!part || part.total === 0) return null;
  const common = part.sectors
    .map(({ share, speed }, k) => ({ from: k * 22.5, share: share.share ?? 0, speed }))
    .filter((each): each is { from: number; share: number; speed: number } => (each.speed ?? 0) > 0)
    .toSorted((a, b) => b.share - a.share)
    .slice(0, SHOWN);
  const offered = [
    ...common.map(({ from, share, speed }) => ({ from, share, speed: Math.round(speed * 10) / 10 })),
    { from: 0, speed: 0, share: part.calmShare.share ?? 0 },
  ];
  return (
    <ul class="common-winds" aria-label={`Common winds of ${part.part === 'midday' ? 'midday' : part.part}`}>
      {offered.map((each) => (
        <li key={each.speed === 0 ? 'calm' : each.from}>
          <button
            type="button"
            class="quiet small"
            aria-pressed={
              each.speed === wind.value.speed && (each.speed === 0 || each.from === wind.value.from)
            }
            onClick={() => {
              wind.value = { from: each.speed === 0 ? wind.value.from : each.from, speed: each.speed };
            }}
          >
            {windWords(each.from, each.speed, units.value)}{' '}
            <span class="unit">{formatShare(each.share)}</span>
          </button>
        </li>
      ))}
    </ul>
  );
}

/** The wind as an arrow over a ring, from where it comes to where it goes. */
function Dial({ from, calm }: { from: number; calm: boolean }) {
  return (
    <svg class="dial" viewBox="-22 -22 44 44" aria-hidden="true">
      <circle class="dial-ring" r="17" />
      <path class="dial-north" d="M0-21V-15" />
      {calm ? (
        <circle class="dial-calm" r="3" />
      ) : (
        <path class="dial-wind" transform={`rotate(${from})`} d="M0-14C3-6 3-2 3 10L0 7-3 10C-3-2-3-6 0-14Z">
          <title>{sectorOf(from)}</title>
        </path>
      )}
    </svg>
  );
}
