import { useEffect } from 'preact/hooks';
import { capital } from '../../../core/features/units.ts';
import { changeSettings } from '../../state/editing.ts';
import { noteBefore } from '../../state/moved.ts';
import { summary } from '../../state/session.ts';
import { sets } from '../../state/travel-asks.ts';
import { dayKey, daysIn, dayWords, MONTHS, YEARS_ON, yearWords } from '../../words/moment.ts';

function change(patch: Record<string, unknown>): void {
  noteBefore();
  void changeSettings({ travel: patch }, true);
}

/** Whose travel, on which day, and how many years on: what every finding of the stage is computed for. */
export function TravelFor() {
  const travel = (summary.value!.settings.travel ?? {}) as { date?: string | null; year?: number };
  const key = JSON.stringify(travel);
  useEffect(() => void sets.put({}), [key]);
  const rows = sets.answer.value ?? [];
  const chosen = rows.find((row) => row.chosen);
  const date = travel.date ?? null;
  const year = travel.year ?? 0;
  return (
    <details class="travel-for">
      <summary>
        <span class="travel-for-words">
          {chosen ? `${chosen.label}, ` : ''}
          {date === null ? '' : 'on '}
          {dayWords(date)}, {yearWords(year)}
        </span>
      </summary>
      {rows.length > 0 && (
        <div class="field">
          <label for="travel-set">Whose travel, and when</label>
          <select
            id="travel-set"
            value={chosen?.key ?? ''}
            aria-describedby="travel-set-holds"
            onChange={(event) => change({ set: event.currentTarget.value })}
          >
            {rows.map((row) => (
              <option key={row.key} value={row.key}>
                {row.label}
              </option>
            ))}
          </select>
          {chosen && (
            <p class="facts" id="travel-set-holds">
              {chosen.holds}
            </p>
          )}
        </div>
      )}
      <Day date={date} />
      <div class="field">
        <label for="travel-year">Years on</label>
        <select
          id="travel-year"
          value={String(year)}
          aria-describedby="travel-year-note"
          onChange={(event) => change({ year: Number(event.currentTarget.value) })}
        >
          {[...new Set([...YEARS_ON, year])].map((on) => (
            <option key={on} value={String(on)}>
              {capital(yearWords(on))}
            </option>
          ))}
        </select>
        <p class="facts" id="travel-year-note">
          Felled tops rot and cuts and screens close with the years; how fast is our assumption, unless a
          feature says so itself.
        </p>
      </div>
    </details>
  );
}

/** A day of the year, or none: seasons drawn on features count only on a day. */
function Day({ date }: { date: string | null }) {
  const now = new Date();
  const [month, day] = (date ?? dayKey(now.getMonth() + 1, now.getDate())).split('-').map(Number) as [
    number,
    number,
  ];
  const today = dayKey(now.getMonth() + 1, now.getDate());
  return (
    <fieldset class="field" aria-describedby="travel-day-note">
      <legend>Day of the year</legend>
      <div class="ask-form">
        <label class="length" for="travel-day-how">
          <span class="unseen">Which day</span>
          <select
            id="travel-day-how"
            value={date === null ? 'none' : 'day'}
            onChange={(event) => change({ date: event.currentTarget.value === 'none' ? null : today })}
          >
            <option value="none">no particular day</option>
            <option value="day">a day</option>
          </select>
        </label>
        {date !== null && (
          <>
            <label class="length" for="travel-month">
              <span class="unseen">Month</span>
              <select
                id="travel-month"
                value={String(month)}
                onChange={(event) => change({ date: dayKey(Number(event.currentTarget.value), day) })}
              >
                {MONTHS.map((name, at) => (
                  <option key={name} value={String(at + 1)}>
                    {name}
                  </option>
                ))}
              </select>
            </label>
            <label class="length" for="travel-day">
              <span class="unseen">Day of the month</span>
              <input
                id="travel-day"
                type="number"
                min="1"
                max={daysIn(month)}
                step="1"
                value={day}
                key={date}
                onChange={(event) => {
                  const typed = event.currentTarget.valueAsNumber;
                  if (Number.isInteger(typed) && typed >= 1 && typed <= daysIn(month))
                    change({ date: dayKey(month, typed) });
                  else event.currentTarget.value = String(day);
                }}
              />
            </label>
            {date !== today && (
              <button type="button" class="quiet" onClick={() => change({ date: today })}>
                Today
              </button>
            )}
          </>
        )}
      </div>
      <p class="facts" id="travel-day-note">
        {date === null
          ? 'Seasons given to features (a span lowered, stock in, corn standing, high water) are left out.'
          : 'Features are taken as they stand in their seasons on that day.'}
      </p>
    </fieldset>
  );
}
