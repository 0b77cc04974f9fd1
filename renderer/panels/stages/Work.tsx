import { DRAWABLE, drawing } from '../../state/editing.ts';
import { pointsOf, rowsOf } from '../../state/rows.ts';
import { units } from '../../state/session.ts';
import { table } from '../../state/tables.ts';
import { flyTo } from '../../state/view.ts';
import { WORK_CAUTIONS } from '../../words/cautions.ts';
import { kindTitle, measureOf } from '../../words/features.ts';
import { Finding, Lines, Section } from '../Finding.tsx';

export function Work() {
  const rows = rowsOf('features', table('features').value);
  const proposed = rows.filter((row) => row.status === 'proposed');
  const existing = rows.filter((row) => row.status !== 'proposed');
  const items = (list: typeof rows) => (
    <ol class="findings">
      {list.map((row) => (
        <Finding
          key={row.id}
          id={row.id}
          flag={kindTitle(row.kind)[0]}
          flagClass={row.status === 'proposed' ? 'square open' : 'square'}
          title={row.name ?? kindTitle(row.kind)}
          onPick={() => flyTo({ type: 'feature', id: row.id }, pointsOf(row.shape), 200)}
        >
          {[row.name ? kindTitle(row.kind) : null, measureOf(row.shape, units.value)]
            .filter(Boolean)
            .join(', ')}
        </Finding>
      ))}
    </ol>
  );
  return (
    <>
      <p class="facts">
        Draw what is there and what you would change. Quantities, calendar and job sheets are not in this
        version, and proposed work is kept apart from the ground as it is today.
      </p>
      <fieldset class="draw-grid" aria-label="Draw">
        {DRAWABLE.map((kind) => (
          <button
            key={kind.kind}
            type="button"
            class="draw-kind"
            aria-pressed={drawing.value?.kind === kind.kind}
            onClick={() => {
              drawing.value = drawing.value?.kind === kind.kind ? null : kind;
            }}
          >
            {kind.title}
          </button>
        ))}
      </fieldset>
      {proposed.length > 0 && (
        <Section title="Proposed" count={proposed.length}>
          {items(proposed)}
        </Section>
      )}
      <Section title="On the ground" count={existing.length}>
        {existing.length === 0 ? <p class="empty">Nothing drawn or brought in yet.</p> : items(existing)}
      </Section>
      <Lines title="Cautions" lines={WORK_CAUTIONS} kind="caution" />
    </>
  );
}
