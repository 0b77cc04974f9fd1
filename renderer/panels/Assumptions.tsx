import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { AssumptionRow } from '../../electron/service/contract.ts';
import { changeSettings } from '../state/editing.ts';
import { noteBefore } from '../state/moved.ts';
import { ask, report, summary } from '../state/session.ts';
import { sets } from '../state/travel-asks.ts';
import { Waiting } from './waiting.tsx';

const rows = signal<AssumptionRow[]>([]);
const sought = signal('');
const onlyChanged = signal(false);

const plural = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`;

/** Sets weights, or with null puts them back; one edit, and the scout runs again. */
function change(weights: Record<string, number | null>): void {
  noteBefore();
  void changeSettings({ weights }, true);
}

/** Every word typed stands somewhere in what the row says. */
const matches = ({ label, subject, source, unit }: AssumptionRow, words: string): boolean => {
  const said = `${label} ${subject} ${source} ${unit}`.toLowerCase();
  return words
    .toLowerCase()
    .split(/\s+/)
    .every((word) => said.includes(word));
};

/** The numbers travel rests on, by subject. Changing one runs the scout again; what it moved is shown above. */
export function Assumptions() {
  const property = summary.value!;
  const { weights, travel } = property.settings;
  const key = `${JSON.stringify([weights, travel])} ${property.layers.length}`;
  useEffect(() => {
    ask('travel.assumptions', {}).then((answer) => {
      rows.value = answer;
    }, report);
  }, [key]);
  if (rows.value.length === 0) return <Waiting what="The assumptions in force" />;
  const all = rows.value;
  const own = all.filter((row) => row.changed);
  const shown = all.filter(
    (row) => matches(row, sought.value) && (!onlyChanged.value || row.changed || row.ofSet !== row.usual),
  );
  const subjects = [...new Set(shown.map(({ subject }) => subject))];
  const seeking = sought.value.trim() !== '' || onlyChanged.value;
  return (
    <>
      <InForce all={all} own={own} />
      <div class="ask-form">
        <label class="length" for="assumption-sought">
          <span>Find an assumption</span>
          <input
            id="assumption-sought"
            type="search"
            autocomplete="off"
            placeholder="fence, creek, open …"
            value={sought.value}
            onInput={(event) => {
              sought.value = event.currentTarget.value;
            }}
          />
        </label>
      </div>
      <label class="only-changed" for="assumption-changed">
        <input
          id="assumption-changed"
          type="checkbox"
          checked={onlyChanged.value}
          onChange={(event) => {
            onlyChanged.value = event.currentTarget.checked;
          }}
        />
        <span>Only what differs from usual</span>
      </label>
      {shown.length === 0 && <p class="empty">No assumption answers to that.</p>}
      {subjects.map((subject) => (
        <Subject
          key={`${subject} ${seeking}`}
          subject={subject}
          rows={shown.filter((row) => row.subject === subject)}
          open={seeking}
        />
      ))}
    </>
  );
}

/** Which set is in force, how much of it is the user's own, and the way back. */
function InForce({ all, own }: { all: readonly AssumptionRow[]; own: readonly AssumptionRow[] }) {
  const chosen = (sets.answer.value ?? []).find((row) => row.chosen);
  const bySet = all.filter((row) => row.ofSet !== row.usual).length;
  return (
    <>
      <p class="facts">
        {chosen && (
          <>
            In force: <strong>{chosen.label}</strong>
            {bySet > 0 ? `, which sets ${bySet} of these ${all.length} apart from the usual` : ''}.{' '}
          </>
        )}
        Enter sets a number and scouts again; what it moves is then shown above. The spread of every neck was
        run over the ranges.
      </p>
      {own.length > 0 && (
        <p class="own-assumptions">
          <span>{plural(own.length, 'number')} of your own.</span>{' '}
          <button
            type="button"
            class="quiet small"
            onClick={() => change(Object.fromEntries(own.map((row) => [row.key, null])))}
          >
            {own.length === 1 ? 'Put it back' : 'Put all back'}
          </button>
        </p>
      )}
    </>
  );
}

function Subject({
  subject,
  rows: of,
  open,
}: {
  subject: string;
  rows: readonly AssumptionRow[];
  open: boolean;
}) {
  const own = of.filter((row) => row.changed).length;
  const bySet = of.filter((row) => row.ofSet !== row.usual && !row.changed).length;
  const marks = [...(own > 0 ? [`${own} yours`] : []), ...(bySet > 0 ? [`${bySet} by the set`] : [])];
  return (
    <details class="subject" open={open || own > 0}>
      <summary>
        {subject} <span class="spread-words">{[String(of.length), ...marks].join(', ')}</span>
      </summary>
      <ul class="assumptions">
        {of.map((row) => (
          <Assumption key={row.key} row={row} />
        ))}
      </ul>
    </details>
  );
}

function Assumption({ row }: { row: AssumptionRow }) {
  const id = `weight-${row.key}`;
  const set = (text: string) => {
    const value = Number(text);
    if (text.trim() === '' || !Number.isFinite(value) || value === row.value) return;
    change({ [row.key]: value });
  };
  return (
    <li class={row.changed ? 'assumption changed' : 'assumption'}>
      <label for={id}>{row.label}</label>
      <span class="assumption-value">
        <input
          id={id}
          type="number"
          step="any"
          value={row.value}
          key={row.value}
          aria-describedby={`${id}-source`}
          onKeyDown={(event) => {
            if (event.key === 'Escape') event.currentTarget.value = String(row.value);
          }}
          onChange={(event) => set(event.currentTarget.value)}
        />
        <span class="unit">{row.unit}</span>
        {row.changed && (
          <button type="button" class="quiet small" onClick={() => change({ [row.key]: null })}>
            Put back<span class="unseen"> {row.label}</span> to {row.ofSet}
          </button>
        )}
      </span>
      <span class="assumption-source" id={`${id}-source`}>
        {row.changed ? 'Yours. ' : ''}
        {row.ofSet !== row.usual ? `By this set ${row.ofSet}, usually ${row.usual}. ` : ''}
        Range {row.low} to {row.high}. Source: {row.source}.
      </span>
    </li>
  );
}
