import { formatShare } from '../../../core/features/units.ts';
import { hour, wind } from '../../state/air-clock.ts';
import { recordedCloud, sky } from '../../state/sky.ts';

const WORDS: Record<number, string> = { 0: 'clear', 5: '5 tenths, half covered', 10: '10 tenths, overcast' };

/** How much of the sky is covered: set in tenths, or as usual in the record with this wind at this part of the day. */
export function SkyField() {
  const recorded = recordedCloud(hour.value, wind.value);
  return (
    <label class="length" for="clock-sky">
      <span>Cloud</span>
      <select
        id="clock-sky"
        value={String(sky.value)}
        onChange={(event) => {
          const chosen = event.currentTarget.value;
          sky.value = chosen === 'record' ? 'record' : Number(chosen);
        }}
      >
        {Array.from({ length: 11 }, (_, tenths) => (
          <option key={tenths} value={tenths}>
            {WORDS[tenths] ?? `${tenths} tenths`}
          </option>
        ))}
        <option value="record" disabled={recorded === null && sky.value !== 'record'}>
          {recorded === null
            ? 'as in the record: not told then'
            : `as in the record: ${formatShare(recorded)} covered`}
        </option>
      </select>
    </label>
  );
}
