import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { AssumptionRow } from '../../electron/service/contract.ts';
import { changeSettings } from '../state/editing.ts';
import { noteBefore } from '../state/moved.ts';
import { ask, report, summary } from '../state/session.ts';
import { Waiting } from './waiting.tsx';

const rows = signal<AssumptionRow[]>([]);

/** The numbers travel rests on. Changing one runs the scout again; only what depends on it is computed anew. */
export function Assumptions() {
  const property = summary.value!;
  const key = `${JSON.stringify(property.settings.weights)} ${property.layers.length}`;
  useEffect(() => {
    ask('travel.assumptions', {}).then((answer) => {
      rows.value = answer;
    }, report);
  }, [key]);
  if (rows.value.length === 0) return <Waiting what="The assumptions in force" />;
  return (
    <>
      <p class="facts">
        Each number can be changed; the range beside it is what the spread of every neck was run over. Press
        Enter to set one and scout again.
      </p>
      <ul class="assumptions">
        {rows.value.map((row) => (
          <Assumption key={row.key} row={row} />
        ))}
      </ul>
    </>
  );
}

function Assumption({ row }: { row: AssumptionRow }) {
  const id = `weight-${row.key}`;
  const set = (text: string) => {
    const value = Number(text);
    if (text.trim() === '' || !Number.isFinite(value) || value === row.value) return;
    noteBefore();
    void changeSettings({ weights: { [row.key]: value } }, true);
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
          <button
            type="button"
            class="quiet small"
            onClick={() => {
              noteBefore();
              void changeSettings({ weights: { [row.key]: null } }, true);
            }}
          >
            Put back
          </button>
        )}
      </span>
      <span class="assumption-source" id={`${id}-source`}>
        {row.changed ? 'Yours. ' : ''}Range {row.low} to {row.high}. Source: {row.source}.
      </span>
    </li>
  );
}
