import { formatShare } from '../../../core/features/units.ts';
import { askWay, radius, wayView } from '../../state/ground-asks.ts';
import { table } from '../../state/tables.ts';
import { Asking } from '../Asking.tsx';
import { LengthField } from '../LengthField.tsx';
import { Heights, PutAway } from './parts.tsx';

/** Kinds of line a person may walk or drive in on. */
const WAYS = new Set(['road', 'trail', 'access']);
const SHOWN = 6;

/** From where a drawn way is seen, and which areas of travel see most of it. */
export function WayView() {
  const answer = wayView.answer.value;
  const ways = (table('features').value?.features ?? []).filter(
    ({ geometry, properties }) => WAYS.has(properties?.kind) && /LineString/.test(geometry.type),
  );
  if (ways.length === 0) {
    return <p class="empty">No road, trail or access is drawn as a line. Draw the way in first.</p>;
  }
  return (
    <>
      <div class="ask-form">
        <Heights />
        <LengthField
          id="way-radius"
          label="Out to"
          kind="distance"
          metres={radius.value}
          least={1}
          most={20_000}
          set={(metres) => {
            radius.value = metres;
          }}
        />
        <label class="length" for="way-seen">
          <span>Way</span>
          <select
            id="way-seen"
            value={wayView.asked.value?.feature ?? ''}
            onChange={(event) => askWay(event.currentTarget.value)}
          >
            <option value="" disabled>
              choose one
            </option>
            {ways.map(({ properties }) => (
              <option key={properties!.id} value={properties!.id}>
                {properties!.name ?? properties!.kind}
              </option>
            ))}
          </select>
        </label>
      </div>
      <section class="answer" aria-label="From where a way is seen" aria-live="polite">
        <Asking of={wayView} what="Walking the way and looking round" />
        {answer && (
          <>
            <p class="para">{answer.sentence}</p>
            <dl class="measures">
              {answer.areas.slice(0, SHOWN).map(({ name, share }) => (
                <div key={name}>
                  <dt>{name}</dt>
                  <dd>{share > 0 ? `sees up to ${formatShare(share)} of it` : 'sees none of it'}</dd>
                </div>
              ))}
            </dl>
            <p class="facts">{answer.note}</p>
            <PutAway of={[wayView]} />
          </>
        )}
      </section>
    </>
  );
}
