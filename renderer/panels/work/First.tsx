import { sourceOf } from '../../state/brief.ts';
import { changeSettings } from '../../state/editing.ts';
import { run } from '../../state/session.ts';
import { computeGains, gains, work } from '../../state/work.ts';
import { dollars, gainedInWords, gainInWords, hours } from '../../words/work.ts';
import { Asking } from '../Asking.tsx';
import { Lines, Section } from '../Finding.tsx';
import { Waiting } from '../waiting.tsx';

/** What comes first for a budget or a number of crew days, and the upkeep after. */
export function First() {
  const plan = work.value;
  if (!plan) return <Waiting what="What comes first" />;
  const names = new Map(plan.jobs.map(({ id, name }) => [id, name]));
  const limit = (id: string, label: string, key: 'budget' | 'crewDays', value: number | null) => (
    <label class="length" for={id}>
      <span>
        {label}
        {sourceOf(`plan.${key}`, '') && ' (from the brief)'}
      </span>
      <input
        id={id}
        type="number"
        min="0"
        step="any"
        value={value ?? ''}
        placeholder="no limit"
        onChange={(event) => {
          const typed = event.currentTarget.valueAsNumber;
          void changeSettings(
            { plan: { [key]: Number.isFinite(typed) && typed >= 0 ? typed : null } },
            false,
          );
        }}
      />
    </label>
  );
  return (
    <>
      <div class="ask-form">
        {limit('work-budget', 'Money a year, $', 'budget', plan.budget)}
        {limit('work-days', 'Crew days a year', 'crewDays', plan.crewDays)}
        <button
          type="button"
          class="strong"
          disabled={run.value !== null || plan.jobs.length === 0}
          onClick={() => void computeGains()}
        >
          Compute what each gains
        </button>
      </div>
      <Asking of={gains} what="Trying every job" />
      <p class="facts">
        {plan.gained
          ? gainedInWords(plan.gained)
          : 'What each job gains has not been computed, so they stand in the order of the work.'}
      </p>
      <ol class="closures">
        {plan.ranked.map((row) => (
          <li key={row.job}>
            <p class="finding-title">
              {names.get(row.job) ?? row.job}: {row.when}
            </p>
            <p class="finding-text">
              Gain {gainInWords(row.gain)}
              {row.perThousandDollars === null ? '' : `, ${row.perThousandDollars.toFixed(2)} for $1,000`}
              {row.perHour === null ? '' : `, ${row.perHour.toFixed(2)} for an hour`}. {row.why}
              {row.needs.length > 0 &&
                ` Worth nothing without ${row.needs.map((id) => names.get(id) ?? id).join(', ')}.`}
            </p>
          </li>
        ))}
      </ol>
      <Lines title="How gains were counted" lines={plan.gained?.notes ?? []} kind="doubts" />
      <Section title="Upkeep, years 2 to 5" count={plan.upkeep.length}>
        <ul class="closures">
          {plan.upkeep.map((row) => (
            <li key={`${row.job} ${row.year} ${row.task}`}>
              <p class="finding-text">
                Year {row.year}, {names.get(row.job)}: {row.task} ({hours(row.hours)}, {dollars(row.money)}).
              </p>
            </li>
          ))}
        </ul>
      </Section>
    </>
  );
}
