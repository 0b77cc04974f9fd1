import type { Signal } from '@preact/signals';
import type { RequestParams } from '../../../electron/service/contract.ts';
import { daysIn, MONTHS } from '../../words/moment.ts';

export type Season = NonNullable<RequestParams<'air.rose'>['season']>;
type End = Season['from'];

/** Which days of the year: the cruising weeks, a month by its number, the whole year, or dates of one's own. */
export interface SeasonChoice {
  kind: string;
  own: Season;
}
export const CRUISING_WEEKS: SeasonChoice = {
  kind: 'cruising',
  own: { from: { month: 10, day: 1 }, to: { month: 1, day: 15 } },
};

/** The season chosen; undefined the cruising weeks, which the service knows, null the whole year. */
export function seasonOf({ kind, own }: SeasonChoice): Season | null | undefined {
  if (kind === 'cruising') return undefined;
  if (kind === 'year') return null;
  if (kind === 'own') return own;
  const month = Number(kind);
  return { from: { month, day: 1 }, to: { month, day: daysIn(month) } };
}

/** @param year whether the whole year may be chosen */
export function SeasonPicker(props: {
  id: string;
  choice: Signal<SeasonChoice>;
  year: boolean;
  changed?(): void;
}) {
  const { id, choice, year } = props;
  const { kind, own } = choice.value;
  const setOwn = (part: Partial<Season>) => {
    choice.value = { kind, own: { ...own, ...part } };
  };
  return (
    <>
      <label class="length" for={`${id}-season`}>
        <span>Season</span>
        <select
          id={`${id}-season`}
          value={kind}
          onChange={(event) => {
            choice.value = { kind: event.currentTarget.value, own };
            // Own dates are asked for once they are set.
            if (choice.value.kind !== 'own') props.changed?.();
          }}
        >
          <option value="cruising">25 October to 15 November</option>
          <option value="own">dates of your own</option>
          {year && <option value="year">the whole year</option>}
          {MONTHS.map((name, k) => (
            <option key={name} value={k + 1}>
              {name}
            </option>
          ))}
        </select>
      </label>
      {kind === 'own' && (
        <div class="season-dates">
          <EndFields id={`${id}-from`} title="From" end={own.from} set={(from) => setOwn({ from })} />
          <EndFields id={`${id}-to`} title="To" end={own.to} set={(to) => setOwn({ to })} />
        </div>
      )}
    </>
  );
}

function EndFields({ id, title, end, set }: { id: string; title: string; end: End; set(end: End): void }) {
  const most = daysIn(end.month);
  return (
    <fieldset class="season-end">
      <legend class="unseen">{title} this day</legend>
      <label class="length" for={`${id}-month`}>
        <span>{title}</span>
        <select
          id={`${id}-month`}
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
      <label class="length" for={`${id}-day`}>
        <span>
          Day<span class="unseen"> ({title.toLowerCase()})</span>
        </span>
        <input
          class="day-number"
          id={`${id}-day`}
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
