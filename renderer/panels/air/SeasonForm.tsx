import { signal } from '@preact/signals';
import type { RequestParams } from '../../../electron/service/contract.ts';
import { rose } from '../../state/air-asks.ts';
import { daysIn, MONTHS } from '../../words/moment.ts';

type Season = NonNullable<RequestParams<'air.rose'>['season']>;
type End = Season['from'];

const choice = signal('cruising');
const own = signal<Season>({ from: { month: 10, day: 1 }, to: { month: 1, day: 15 } });

const paramsOf = (chosen: string): RequestParams<'air.rose'> => {
  if (chosen === 'cruising') return {};
  if (chosen === 'year') return { season: null };
  if (chosen === 'own') return { season: own.value };
  const month = Number(chosen);
  return { season: { from: { month, day: 1 }, to: { month, day: daysIn(month) } } };
};

/** Counts the wind of the season chosen. */
export const countWind = (): void => void rose.put(paramsOf(choice.value));

/** Which days of the year are counted: the cruising weeks, a month, the year, or dates of one's own. */
export function SeasonForm() {
  return (
    <form
      class="ask-form"
      onSubmit={(event) => {
        event.preventDefault();
        countWind();
      }}
    >
      <label class="length" for="rose-season">
        <span>Season</span>
        <select
          id="rose-season"
          value={choice.value}
          onChange={(event) => {
            choice.value = event.currentTarget.value;
            // Own dates are asked for once they are set.
            if (choice.value !== 'own' && rose.asked.peek()) countWind();
          }}
        >
          <option value="cruising">25 October to 15 November</option>
          <option value="own">dates of your own</option>
          <option value="year">the whole year</option>
          {MONTHS.map((name, k) => (
            <option key={name} value={k + 1}>
              {name}
            </option>
          ))}
        </select>
      </label>
      {choice.value === 'own' && (
        <div class="season-dates">
          <EndFields
            id="from"
            title="From"
            end={own.value.from}
            set={(from) => {
              own.value = { ...own.value, from };
            }}
          />
          <EndFields
            id="to"
            title="To"
            end={own.value.to}
            set={(to) => {
              own.value = { ...own.value, to };
            }}
          />
        </div>
      )}
      <button type="submit" class="quiet">
        Count the wind
      </button>
    </form>
  );
}

function EndFields({ id, title, end, set }: { id: string; title: string; end: End; set(end: End): void }) {
  const most = daysIn(end.month);
  return (
    <fieldset class="season-end">
      <legend class="unseen">{title} this day</legend>
      <label class="length" for={`season-${id}-month`}>
        <span>{title}</span>
        <select
          id={`season-${id}-month`}
          value={end.month}
          onChange={(event) => {
            const month = Number(event.currentTarget.value);
            set({ month, day: Math.min(end.day, daysIn(month)) });
          }}
        >
          {MONTHS.map((name, k) => (
            <option key={name} value={k + 1}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <label class="length" for={`season-${id}-day`}>
        <span>
          Day<span class="unseen"> ({title.toLowerCase()})</span>
        </span>
        <input
          class="day-number"
          id={`season-${id}-day`}
          type="number"
          min="1"
          max={most}
          step="1"
          value={end.day}
          onChange={(event) => {
            const day = event.currentTarget.valueAsNumber;
            if (Number.isInteger(day) && day >= 1 && day <= most) set({ ...end, day });
            else event.currentTarget.value = String(end.day);
          }}
        />
      </label>
    </fieldset>
  );
}
