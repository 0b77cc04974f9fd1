import type { Job } from '../../../core/plan/types.ts';
import { putFeature } from '../../state/editing.ts';
import { pointsOf, rowsOf } from '../../state/rows.ts';
import { table } from '../../state/tables.ts';
import { flyTo } from '../../state/view.ts';
import { work } from '../../state/work.ts';
import { datesInWords, dollars, hours } from '../../words/work.ts';
import { featureOf } from '../FeatureForm.tsx';
import { Finding, Lines } from '../Finding.tsx';
import { Waiting } from '../waiting.tsx';

/** The work list: each job with its quantities, hours, money, days and cautions. */
export function Jobs() {
  const plan = work.value;
  if (!plan) return <Waiting what="The work list" />;
  if (plan.jobs.length === 0 && plan.unpriced.length === 0)
    return (
      <p class="facts">
        Nothing is proposed yet. Draw a barricade, cutting, trail, planting, food plot or stand and call it
        proposed: its quantities, hours, money and days come here.
      </p>
    );
  const { all, byCrew, bySeason } = plan.totals;
  return (
    <>
      <p class="facts">
        {all.jobs} to do: about {hours(all.hours)} and {dollars(all.money)}
        {all.open > 0 ? `, without ${all.open} that cannot be priced yet` : ''}. Measured level on the map.
        What was built comes back as a track or points named as the job is (“start”, numbers and “stop” behind
        the name make a line): drop the file on the map, and it takes the place of what was planned.
      </p>
      <ol class="findings">
        {plan.jobs.map((job) => (
          <JobLine key={job.id} job={job} />
        ))}
      </ol>
      <div class="table-scroll">
        <table>
          <caption>Hours and money</caption>
          <thead>
            <tr>
              <th scope="col">By</th>
              <th scope="col" class="right">
                Jobs
              </th>
              <th scope="col" class="right">
                Hours
              </th>
              <th scope="col" class="right">
                Money
              </th>
            </tr>
          </thead>
          <tbody>
            {[...byCrew, ...bySeason].map((total) => (
              <tr key={total.name}>
                <th scope="row">{total.name}</th>
                <td class="right">{total.jobs}</td>
                <td class="right">{hours(total.hours)}</td>
                <td class="right">{dollars(total.money)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <Lines
        title="Proposed, without quantities in this version"
        lines={plan.unpriced.map(({ name, kind }) => `${name} (${kind})`)}
        kind="missing"
      />
      {plan.cautions.map(({ kind, lines }) => (
        <Lines key={kind} title={`Cautions: ${kind}`} lines={lines} kind="caution" />
      ))}
    </>
  );
}

function JobLine({ job }: { job: Job }) {
  const plan = work.value!;
  const days = plan.calendar.jobs.find((row) => row.job === job.id);
  const row = rowsOf('features', table('features').value).find(({ id }) => id === job.id);
  const tick = () => {
    if (!row) return;
    const feature = featureOf(row);
    const { done: _, ...attributes } = feature.attributes;
    const today = new Date().toISOString().slice(0, 10);
    void putFeature(
      job.done
        ? { ...feature, status: feature.kind === 'feeder' ? 'existing' : 'proposed', attributes }
        : { ...feature, status: 'existing', attributes: { ...attributes, done: today } },
      job.done ? 'Back on the list.' : 'Ticked off: it counts as built from now on.',
    );
  };
  const promise = (key: 'owner' | 'due', value: string) => {
    if (!row) return;
    const feature = featureOf(row);
    const { [key]: _, ...attributes } = feature.attributes;
    void putFeature(
      { ...feature, attributes: value === '' ? attributes : { ...attributes, [key]: value } },
      'Written on the work list.',
    );
  };
  return (
    <>
      <Finding
        id={job.id}
        flag={job.done ? '✓' : job.kind[0]!.toUpperCase()}
        flagClass={job.done ? 'square' : 'square open'}
        title={`${job.name}: ${hours(job.hours)}, ${dollars(job.money.total)}`}
        onPick={() => flyTo({ type: 'feature', id: job.id }, row ? pointsOf(row.shape) : [job.at], 200)}
      >
        {job.kind}
        {job.done
          ? `, done ${datesInWords(job.done, job.done)}`
          : `, ${datesInWords(days?.from ?? null, days?.to ?? null)}`}
        .{' '}
        {job.quantities
          .map(({ label, text, buy }) => `${label} ${text}${buy ? ` (buy ${buy})` : ''}`)
          .join('; ')}
        .{job.built && ` Planned ${job.built.planned}, built ${job.built.built}.`}
        {job.why && ` Why, when it was drafted: ${job.why}`}
        {job.unknown.length > 0 && ` To find out: ${job.unknown.join(' ')}`}
      </Finding>
      <li class="tick job-tick">
        <input
          class="job-owner"
          aria-label={`Who does ${job.name}`}
          placeholder="who"
          maxLength={200}
          value={job.owner ?? ''}
          autocomplete="off"
          onChange={(event) => promise('owner', event.currentTarget.value.trim())}
        />
        <input
          class="job-due"
          type="date"
          aria-label={`${job.name} is due`}
          value={job.due ?? ''}
          onChange={(event) => promise('due', event.currentTarget.value)}
        />
        <button type="button" class="quiet small" onClick={tick}>
          {job.done ? 'Not done after all' : 'Mark as done'}
          <span class="unseen">: {job.name}</span>
        </button>
      </li>
    </>
  );
}
