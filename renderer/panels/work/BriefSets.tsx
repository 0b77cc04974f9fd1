import { briefRows, takeFromBrief } from '../../state/brief.ts';
import { Section } from '../Finding.tsx';

/** What the answers set elsewhere; what was set by hand there counts, and can be given back to the brief. */
export function BriefSets() {
  const rows = briefRows.value;
  return (
    <Section title="What the answers set" count={rows.length}>
      {rows.length === 0 ? (
        <p class="empty">
          Nothing yet: how far they walk, when and how they come, what may be crossed, and what can be spent
          set the rules of the stands and of the work.
        </p>
      ) : (
        <ul class="closures">
          {rows.map(({ key, title, asked, set, fromBrief }) => (
            <li key={key}>
              <p class="finding-text">
                {title}: <strong>{set}</strong>,{' '}
                {fromBrief ? 'from the brief.' : `set by hand; the brief asks for ${asked}.`}
              </p>
              {!fromBrief && (
                <button type="button" class="quiet" onClick={() => void takeFromBrief(key)}>
                  Take it from the brief
                </button>
              )}
            </li>
          ))}
        </ul>
      )}
    </Section>
  );
}
