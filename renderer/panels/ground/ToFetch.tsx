import { useEffect } from 'preact/hooks';
import { inquiry } from '../../state/inquiry.ts';
import { summary } from '../../state/session.ts';

const wanted = inquiry('ground.toFetch');
const KIND: Record<string, string> = {
  elevation: 'Elevation',
  imagery: 'Aerial photo',
  'land cover': 'Land cover',
  wind: 'Wind record',
};

/** The public files this ground needs, checked off, and what going without each costs. */
export function ToFetch() {
  // What is there changes with the files, which the notes and the ready layers follow.
  const key = `${summary.value!.importNotes.length} ${summary.value!.layers.length} ${summary.value!.missing.length}`;
  useEffect(() => void wanted.put({}), [key]);
  const items = wanted.answer.value;
  if (!items) return <p class="empty">Looking up which public files cover this ground.</p>;
  const open = items.filter(({ have }) => !have).length;
  return (
    <>
      <p class="facts">
        Public files that cover this ground, by how their published names start.{' '}
        {open === 0 ? 'All are here.' : `${items.length - open} of ${items.length} are here.`} Drop what you
        fetch on the window.
      </p>
      <ul class="fetch">
        {items.map(({ kind, name, what, have, cost }) => (
          <li key={`${kind} ${name}`} class={have ? 'have' : 'lacking'}>
            <span class="fetch-box" aria-hidden="true">
              {have ? '✓' : ''}
            </span>
            <div>
              <p class="fetch-name">
                <span class="unseen">{have ? 'Here: ' : 'Not here: '}</span>
                {KIND[kind] ?? kind}: <code>{name}</code>
              </p>
              <p class="fetch-what">{what}</p>
              {cost !== null && <p class="fetch-cost">Without it: {cost}</p>}
            </div>
          </li>
        ))}
      </ul>
    </>
  );
}
