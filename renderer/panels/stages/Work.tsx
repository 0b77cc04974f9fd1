import { signal } from '@preact/signals';
import { drawing } from '../../state/editing.ts';
import { pointsOf, rowsOf } from '../../state/rows.ts';
import { units } from '../../state/session.ts';
import { table } from '../../state/tables.ts';
import { flyTo } from '../../state/view.ts';
import { work } from '../../state/work.ts';
import { WORK_CAUTIONS } from '../../words/cautions.ts';
import { DRAWABLE } from '../../words/drawable.ts';
import { kindTitle, measureOf } from '../../words/features.ts';
import { Finding, Lines, Section } from '../Finding.tsx';
import { Leaves } from '../Leaves.tsx';
import { Brief } from '../work/Brief.tsx';
import { Calendar } from '../work/Calendar.tsx';
import { Draft } from '../work/Draft.tsx';
import { First } from '../work/First.tsx';
import { Jobs } from '../work/Jobs.tsx';
import { Rates } from '../work/Rates.tsx';
import { Walk } from '../work/Walk.tsx';

const leaf = signal<'draw' | 'draft' | 'jobs' | 'calendar' | 'first' | 'rates' | 'brief' | 'walk'>('draw');

export function Work() {
  const count = work.value?.jobs.length ?? 0;
  return (
    <Leaves
      label="Work"
      chosen={leaf}
      leaves={[
        { id: 'draw', title: 'Draw', body: () => <Draw /> },
        { id: 'draft', title: 'Draft plan', body: () => <Draft /> },
        { id: 'walk', title: 'Walk', body: () => <Walk /> },
        { id: 'jobs', title: `Work list ${count || ''}`, body: () => <Jobs /> },
        { id: 'calendar', title: 'Calendar', body: () => <Calendar /> },
        { id: 'first', title: 'What first', body: () => <First /> },
        { id: 'rates', title: 'Rates', body: () => <Rates /> },
        { id: 'brief', title: 'Brief', body: () => <Brief /> },
      ]}
    />
  );
}

function Draw() {
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
        Draw what is there and what you would change; proposed work is kept apart from the ground as it is
        today. Its quantities, hours, money and days are in the work list.
      </p>
      {DRAWABLE.map(({ group, kinds }) => (
        <fieldset key={group} class="draw-grid">
          <legend>{group}</legend>
          {kinds.map((kind) => (
            <button
              key={kind.title}
              type="button"
              class="draw-kind"
              aria-pressed={drawing.value === kind}
              onClick={() => {
                drawing.value = drawing.value === kind ? null : kind;
              }}
            >
              {kind.title}
            </button>
          ))}
        </fieldset>
      ))}
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
