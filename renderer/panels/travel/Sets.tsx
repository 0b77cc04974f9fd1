import { useEffect } from 'preact/hooks';
import { changeSettings } from '../../state/editing.ts';
import { summary } from '../../state/session.ts';
import { sets } from '../../state/travel-asks.ts';

/** Whose travel, and when: one set of assumptions at a time. */
export function Sets() {
  const key = JSON.stringify(summary.value!.settings.travel ?? null);
  useEffect(() => void sets.put({}), [key]);
  const rows = sets.answer.value;
  if (!rows || rows.length === 0) return null;
  const chosen = rows.find((row) => row.chosen);
  return (
    <div class="field">
      <label for="travel-set">Whose travel, and when</label>
      <select
        id="travel-set"
        value={chosen?.key ?? ''}
        aria-describedby="travel-set-holds"
        onChange={(event) => void changeSettings({ travel: { set: event.currentTarget.value } }, true)}
      >
        {rows.map((row) => (
          <option key={row.key} value={row.key}>
            {row.label}
          </option>
        ))}
      </select>
      {chosen && (
        <p class="facts" id="travel-set-holds">
          {chosen.holds}
        </p>
      )}
    </div>
  );
}
