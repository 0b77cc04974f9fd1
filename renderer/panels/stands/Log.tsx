import { formatShare } from '../../../core/features/units.ts';
import { removeFeature } from '../../state/editing.ts';
import {
  beginSeen,
  type LoggedRow,
  log,
  logVisit,
  placeSeen,
  seenForm,
  seenOn,
  setSeen,
  setVisit,
  type VisitForm,
  visitForm,
  visitRows,
} from '../../state/hunt-log.ts';
import { stands } from '../../state/stand-list.ts';
import { standsReady } from '../../state/stands-asks.ts';
import { flyTo } from '../../state/view.ts';
import { clockWords, sectorOf } from '../../words/air.ts';
import { HUNT_SIGNS, OUTCOMES, partWords, VISIT_WORDS } from '../../words/stands.ts';
import { Asking } from '../Asking.tsx';
import { Lines, Section } from '../Finding.tsx';
import { NumberField } from '../NumberField.tsx';
import { NamedOptions, SectorOptions } from '../options.tsx';

/** Sits and visits written down, what was seen on them, and the verdicts held against it. */
export function Log() {
  const rows = visitRows.value;
  return (
    <>
      <p class="facts">
        Write down every sit, blank ones too: a log of good days only says that days were good.
      </p>
      <VisitFields />
      <Section title="Written down" count={rows.length}>
        {rows.length === 0 && <p class="empty">Nothing yet.</p>}
        <ul class="closures">
          {rows.map((row) => (
            <VisitRow key={row.id} row={row} />
          ))}
        </ul>
      </Section>
      <Against />
    </>
  );
}

function VisitFields() {
  const form = visitForm.value;
  const sit = form.who === 'sit';
  return (
    <form
      class="ask-form"
      onSubmit={(event) => {
        event.preventDefault();
        logVisit();
      }}
    >
      <label class="length" for="log-who">
        <span>What it was</span>
        <select
          id="log-who"
          value={form.who}
          onChange={(event) => setVisit({ who: event.currentTarget.value as VisitForm['who'] })}
        >
          {Object.entries(VISIT_WORDS).map(([value, words]) => (
            <option key={value} value={value}>
              {words}
            </option>
          ))}
        </select>
      </label>
      {sit && (
        <label class="length" for="log-stand">
          <span>Stand</span>
          <select
            id="log-stand"
            value={form.stand ?? stands.value[0]?.id ?? ''}
            onChange={(event) => setVisit({ stand: event.currentTarget.value })}
          >
            <NamedOptions of={stands.value} />
          </select>
        </label>
      )}
      <label class="length" for="log-date">
        <span>Day</span>
        <input
          id="log-date"
          type="date"
          required
          value={form.date}
          onChange={(event) => {
            if (event.currentTarget.value) setVisit({ date: event.currentTarget.value });
          }}
        />
      </label>
      {sit && (
        <>
          <TimeField id="log-from" label="From" hour={form.from} set={(from) => setVisit({ from })} />
          <TimeField id="log-to" label="Until" hour={form.to} set={(to) => setVisit({ to })} />
          <label class="length" for="log-wind">
            <span>Wind</span>
            <select
              id="log-wind"
              value={form.wind === null ? '' : String(form.wind)}
              onChange={(event) => {
                const chosen = event.currentTarget.value;
                setVisit({ wind: chosen === '' ? null : chosen === 'calm' ? 'calm' : Number(chosen) });
              }}
            >
              <option value="">not told</option>
              <option value="calm">calm</option>
              <SectorOptions />
            </select>
          </label>
        </>
      )}
      <button type="submit" class="quiet" disabled={sit && stands.value.length === 0}>
        {sit ? 'Log the sit' : 'Log it at a place'}
      </button>
    </form>
  );
}

/** An hour of the day as a clock says it; emptied it is not told. */
function TimeField(props: {
  id: string;
  label: string;
  hour: number | null;
  set(hour: number | null): void;
}) {
  return (
    <label class="length" for={props.id}>
      <span>{props.label}</span>
      <input
        id={props.id}
        type="time"
        value={props.hour === null ? '' : clockWords(props.hour)}
        onChange={(event) => {
          const [hours, minutes] = event.currentTarget.value.split(':').map(Number);
          props.set(event.currentTarget.value === '' ? null : hours! + (minutes ?? 0) / 60);
        }}
      />
    </label>
  );
}

const textOf = (value: unknown): string => (typeof value === 'string' ? value : '');

function VisitRow({ row }: { row: LoggedRow }) {
  const { date, who, stand, from, to, windFrom, windSpeed } = row.attributes;
  const name = stands.value.find(({ id }) => id === stand)?.name;
  const kind = VISIT_WORDS[textOf(who) as VisitForm['who']] ?? VISIT_WORDS.owner;
  const hours =
    typeof from === 'number'
      ? `${clockWords(from)}${typeof to === 'number' ? ` to ${clockWords(to)}` : ''}`
      : null;
  const wind =
    typeof windSpeed === 'number' && windSpeed < 0.5
      ? 'calm air'
      : typeof windFrom === 'number'
        ? `wind ${sectorOf(windFrom)}`
        : null;
  const facts = [hours, wind].filter((fact) => fact !== null);
  const seen = seenOn(row.id);
  const said = log.answer.value?.sits.find(({ id }) => id === row.id);
  return (
    <li>
      <p class="finding-title">
        {textOf(date) || 'no day'}: {who === 'sit' ? (name ?? 'a stand that is gone') : kind}
      </p>
      {facts.length > 0 && <p class="unit">{facts.join(', ')}</p>}
      {said?.expected && (
        <p class="finding-text">
          Expected: <span aria-hidden="true">{HUNT_SIGNS[said.expected.hunt].sign}</span>{' '}
          {HUNT_SIGNS[said.expected.hunt].says},{' '}
          {said.expected.clean === null ? 'no travel expected' : `${formatShare(said.expected.clean)} clean`}.{' '}
          {said.expected.why}
        </p>
      )}
      {said?.silent && who === 'sit' && <p class="finding-text">{said.silent}</p>}
      {who === 'sit' && (
        <ul class="lines plain">
          {seen.length === 0 && <li>No deer seen.</li>}
          {seen.map((each) => (
            <li key={each.id}>
              {seenWords(each)}{' '}
              <button type="button" class="quiet small" onClick={() => void removeFeature(each.id)}>
                Remove<span class="unseen"> what was seen: {seenWords(each)}</span>
              </button>
            </li>
          ))}
        </ul>
      )}
      {seenForm.value?.sit === row.id && <SeenFields />}
      <div class="steps">
        {who === 'sit' && seenForm.value?.sit !== row.id && (
          <button type="button" class="quiet small" onClick={() => beginSeen(row.id)}>
            Add what was seen
          </button>
        )}
        <button
          type="button"
          class="quiet small"
          onClick={() => flyTo({ type: 'feature', id: row.id }, pointOf(row), 300)}
        >
          Change it<span class="unseen">: {textOf(date)}</span>
        </button>
        <button type="button" class="quiet small" onClick={() => void removeFeature(row.id)}>
          Remove<span class="unseen"> the visit of {textOf(date)}</span>
        </button>
      </div>
    </li>
  );
}

const pointOf = ({ shape }: LoggedRow): number[][] => (shape.type === 'Point' ? [shape.coordinates] : []);

function seenWords({ attributes: { what, count, hour, came, outcome } }: LoggedRow): string {
  const deer = textOf(what) || 'deer';
  return [
    `${typeof count === 'number' ? count : 1} × ${deer}`,
    typeof hour === 'number' ? `at ${clockWords(hour)}` : null,
    typeof came === 'number' ? `from the ${sectorOf(came)}` : null,
    textOf(outcome) || null,
  ]
    .filter((word) => word !== null)
    .join(', ');
}

const WHAT = ['doe', 'doe with young', 'buck', 'young deer'] as const;

function SeenFields() {
  const form = seenForm.value!;
  return (
    <form
      class="ask-form"
      onSubmit={(event) => {
        event.preventDefault();
        placeSeen();
      }}
    >
      <label class="length" for="seen-what">
        <span>What</span>
        <select
          id="seen-what"
          value={form.what}
          onChange={(event) => setSeen({ what: event.currentTarget.value })}
        >
          <option value="">not told</option>
          {WHAT.map((what) => (
            <option key={what} value={what}>
              {what}
            </option>
          ))}
        </select>
      </label>
      <NumberField
        id="seen-count"
        label="How many"
        value={form.count}
        least={1}
        most={200}
        whole
        put={(count) => setSeen({ count })}
      />
      <TimeField id="seen-hour" label="At" hour={form.hour} set={(hour) => setSeen({ hour })} />
      <label class="length" for="seen-came">
        <span>Came from</span>
        <select
          id="seen-came"
          value={form.came === null ? '' : String(form.came)}
          onChange={(event) => {
            const chosen = event.currentTarget.value;
            setSeen({ came: chosen === '' ? null : Number(chosen) });
          }}
        >
          <option value="">not told</option>
          <SectorOptions />
        </select>
      </label>
      <label class="length" for="seen-outcome">
        <span>How it went</span>
        <select
          id="seen-outcome"
          value={form.outcome}
          onChange={(event) => setSeen({ outcome: event.currentTarget.value })}
        >
          <option value="">not told</option>
          {OUTCOMES.map((outcome) => (
            <option key={outcome} value={outcome}>
              {outcome}
            </option>
          ))}
        </select>
      </label>
      <button type="submit" class="strong">
        Click where
      </button>
      <button
        type="button"
        class="quiet"
        onClick={() => {
          seenForm.value = null;
        }}
      >
        Leave it
      </button>
    </form>
  );
}

/** The verdicts held against the log. */
function Against() {
  const answer = log.answer.value;
  const sits = visitRows.value.filter(({ attributes }) => attributes.who === 'sit');
  if (sits.length === 0) return null;
  return (
    <Section title="Against the verdicts">
      <div class="ask-form">
        <button type="button" class="quiet" disabled={!standsReady.value} onClick={() => void log.put({})}>
          Hold the verdicts against the log
        </button>
      </div>
      <section class="answer" aria-label="Log against verdicts" aria-live="polite">
        <Asking of={log} what="Looking up what was expected" />
        {answer && (
          <>
            {answer.scores.length === 0 && (
              <p class="para unfirm">
                Nothing to hold against each other yet: sits need their hours and wind, and what was seen.
              </p>
            )}
            {answer.scores.map(({ about, sentence, luck }) => (
              <p key={about} class={luck === null ? 'para unfirm' : 'para'}>
                {sentence}
              </p>
            ))}
            <ByCase sits={answer.sits} />
            <Lines title="How it was held against each other" lines={answer.notes} kind="doubts" />
          </>
        )}
      </section>
    </Section>
  );
}

/** Which winds and parts of the day were sat, what was expected of them and what came. */
function ByCase({ sits }: { sits: NonNullable<typeof log.answer.value>['sits'] }) {
  const told = sits.filter(({ part, wind }) => part !== null && wind !== null);
  const keys = [...new Set(told.map(({ name, part, wind }) => `${name}|${part}|${wind}`))];
  if (keys.length === 0) return null;
  return (
    <div class="table-scroll">
      <table>
        <caption>What was sat, expected and seen</caption>
        <thead>
          <tr>
            <th scope="col">Stand, wind, part</th>
            <th scope="col" class="right">
              Sits
            </th>
            <th scope="col">Expected</th>
            <th scope="col" class="right">
              Seen on
            </th>
          </tr>
        </thead>
        <tbody>
          {keys.map((key) => {
            const of = told.filter(({ name, part, wind }) => `${name}|${part}|${wind}` === key);
            const { name, part, wind, expected } = of[0]!;
            return (
              <tr key={key}>
                <th scope="row">
                  {name ?? 'gone'}, {wind === 'calm' ? 'calm air' : `wind ${wind}`} {partWords(part!)}
                </th>
                <td class="right">{of.length}</td>
                <td>{expected ? HUNT_SIGNS[expected.hunt].says : 'nothing said'}</td>
                <td class="right">{of.filter(({ observations }) => observations.length > 0).length}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}
