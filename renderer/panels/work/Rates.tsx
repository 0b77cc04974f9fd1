import type { RateRow } from '../../../core/plan/types.ts';
import { changeSettings } from '../../state/editing.ts';
import { work } from '../../state/work.ts';
import { Section } from '../Finding.tsx';
import { Waiting } from '../waiting.tsx';

/** The rates of the work, those in use first; each can be set for this property. */
export function Rates() {
  const plan = work.value;
  if (!plan) return <Waiting what="The rates" />;
  const list = (rows: RateRow[]) => (
    <ul class="assumptions">
      {rows.map((row) => (
        <Rate key={row.key} row={row} all={plan.rates} />
      ))}
    </ul>
  );
  return (
    <>
      <p class="facts">
        Press Enter to set a rate for this property. Prices are for comparing jobs: get quotes.
      </p>
      <Section title="The list rests on">{list(plan.rates.filter(({ used }) => used))}</Section>
      <Section title="The others">{list(plan.rates.filter(({ used }) => !used))}</Section>
    </>
  );
}

function Rate({ row, all }: { row: RateRow; all: RateRow[] }) {
  const id = `rate-${row.key}`;
  /** All rates of the property's own, with this one set or taken back. */
  const put = (value: number | null) => {
    const own = all
      .filter(({ changed, key }) => changed && key !== row.key)
      .map(({ key, value: v }) => [key, v]);
    const rates = Object.fromEntries(value === null ? own : [...own, [row.key, value]]);
    void changeSettings({ plan: { rates } }, false);
  };
  return (
    <li class={row.changed ? 'assumption changed' : 'assumption'}>
      <label for={id}>{row.label}</label>
      <span class="assumption-value">
        <input
          id={id}
          type="number"
          step="any"
          min="0"
          value={row.typed}
          key={row.typed}
          aria-describedby={`${id}-source`}
          onChange={(event) => {
            const typed = event.currentTarget.valueAsNumber;
            if (Number.isFinite(typed) && typed >= 0 && typed !== row.typed) put(typed * row.factor);
            else event.currentTarget.value = String(row.typed);
          }}
        />
        <span class="unit">{row.unitText}</span>
        {row.changed && (
          <button type="button" class="quiet small" onClick={() => put(null)}>
            Put back<span class="unseen">: {row.label}</span>
          </button>
        )}
      </span>
      <span class="assumption-source" id={`${id}-source`}>
        {row.changed ? 'Set for this property. ' : ''}Source: {row.source}.
      </span>
    </li>
  );
}
