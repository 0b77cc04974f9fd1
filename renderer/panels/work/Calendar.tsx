import { capital } from '../../../core/features/units.ts';
import { sourceOf } from '../../state/brief.ts';
import { changeSettings } from '../../state/editing.ts';
import { work } from '../../state/work.ts';
import { datesInWords, placeInYear, spansInWords } from '../../words/work.ts';
import { Lines, Section } from '../Finding.tsx';
import { Waiting } from '../waiting.tsx';

/** Months along the top, a row for each restraint and kind of work; said in words beside it. */
export function Calendar() {
  const plan = work.value;
  if (!plan) return <Waiting what="The calendar" />;
  const names = new Map(plan.jobs.map(({ id, name }) => [id, name]));
  const dated = plan.calendar.jobs.toSorted((a, b) => (a.from ?? '9').localeCompare(b.from ?? '9'));
  return (
    <>
      <YearStrip />
      <Section title="Days" count={dated.length}>
        {dated.length === 0 && <p class="empty">No job is waiting for a day.</p>}
        <ol class="closures">
          {dated.map((row) => (
            <li key={row.job}>
              <p class="finding-title">
                {datesInWords(row.from, row.to)}: {names.get(row.job) ?? row.job}
              </p>
              <p class="finding-text">{row.reasons.join(' ')}</p>
            </li>
          ))}
        </ol>
      </Section>
      <DaySettings />
      <Lines title="What this cannot know" lines={plan.calendar.notes} kind="doubts" />
    </>
  );
}

const ROW = 10;

function YearStrip() {
  const { strip } = work.value!.calendar;
  return (
    <div class="table-scroll">
      <table class="year">
        <caption>The year: when each kind of work may be done, and what keeps it out (outlined)</caption>
        <tbody>
          {strip.map(({ label, kind, spans }) => (
            <tr key={label}>
              <th scope="row">{capital(label)}</th>
              <td>
                <svg
                  viewBox={`0 0 120 ${ROW}`}
                  class={`year-row ${kind}`}
                  role="img"
                  aria-label={spansInWords(spans)}
                >
                  {Array.from({ length: 13 }, (_, month) => (
                    <line key={`m${month * 10}`} x1={month * 10} x2={month * 10} y1="0" y2={ROW} />
                  ))}
                  {spans.flatMap(({ from, to }) => {
                    const [a, b] = [placeInYear(from, false), placeInYear(to, true)];
                    const parts =
                      a < b
                        ? [[a, b]]
                        : [
                            [a, 1],
                            [0, b],
                          ];
                    return parts.map(([p, q]) => (
                      <rect key={`${from}${p}`} x={p! * 120} width={(q! - p!) * 120} y="2" height={ROW - 4} />
                    ));
                  })}
                </svg>
              </td>
              <td>{spansInWords(spans)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** Days the calendar rests on, MM-DD, with where each comes from. */
function DaySettings() {
  const { days, daySources } = work.value!;
  const field = (
    id: string,
    label: string,
    value: string,
    source: string,
    patch: (text: string) => object,
  ) => (
    <li class="assumption" key={id}>
      <label for={id}>{label}</label>
      <span class="assumption-value">
        <input
          id={id}
          value={value}
          key={value}
          pattern="(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])"
          aria-describedby={`${id}-source`}
          onChange={(event) => {
            const { value: typed, validity } = event.currentTarget;
            if (validity.valid && typed !== '' && typed !== value)
              void changeSettings({ plan: { calendar: { ...days, ...patch(typed) } } }, false);
            else event.currentTarget.value = value;
          }}
        />
        <span class="unit">month-day</span>
      </span>
      <span class="assumption-source" id={`${id}-source`}>
        Source: {source}.
      </span>
    </li>
  );
  const spans = [
    ['season', 'Season'],
    ['dormant', 'Trees without leaves'],
    ['nesting', 'Birds nest'],
    ['bats', 'Bats roost in trees'],
    ['stock', 'Stock is on the ground'],
  ] as const;
  return (
    <Section title="Days it rests on">
      <ul class="assumptions">
        {field('day-last', 'Last frost', days.lastFrost, daySources.lastFrost!, (lastFrost) => ({
          lastFrost,
        }))}
        {field('day-first', 'First frost', days.firstFrost, daySources.firstFrost!, (firstFrost) => ({
          firstFrost,
        }))}
        {spans.flatMap(([key, label]) => {
          const span = days[key];
          const source = sourceOf(`plan.calendar.${key}`, daySources[key]!);
          if (!span) return [];
          return [
            field(`day-${key}-from`, `${label}, from`, span.from, source, (from) => ({
              [key]: { ...span, from },
            })),
            field(`day-${key}-to`, `${label}, to`, span.to, source, (to) => ({ [key]: { ...span, to } })),
          ];
        })}
      </ul>
    </Section>
  );
}
