import { formatLength } from '../../../core/features/units.ts';
import type { WayTaken } from '../../../electron/service/contract.ts';
import { changeSettings } from '../../state/editing.ts';
import { units } from '../../state/session.ts';
import { hunt } from '../../state/stands-when.ts';
import { flyTo } from '../../state/view.ts';

/** How hunters come: what is clean on foot or driven decides which stands are left. */
export function Arrive({ id }: { id: string }) {
  const now = hunt.value;
  if (!now) return null;
  return (
    <label class="length" for={id}>
      <span>Hunters come</span>
      <select
        id={id}
        value={now.arrive}
        onChange={(event) => void changeSettings({ hunt: { arrive: event.currentTarget.value } }, false)}
      >
        <option value="foot">on foot</option>
        <option value="vehicle">driven as far as roads lead</option>
      </select>
    </label>
  );
}

/** `In from Yard, 16 min; out 18 min.` */
export function waysWords(ways: readonly WayTaken[]): string {
  const u = units.value;
  return ways
    .map(({ clean, start, minutes, length, driven, against }, k) => {
      const which = k === 0 ? 'In' : 'Out after dark';
      if (clean === null) return `${which}: not known, since no place people come from is mapped.`;
      if (!Number.isFinite(minutes)) return `${which}: ${against ?? 'no way leads there'}`;
      const drive = driven > 0 ? `, ${formatLength(driven, u)} of it driven` : '';
      const way = `${which} ${k === 0 ? `from ${start}` : `to ${start}`}: ${Math.max(1, Math.round(minutes))} min, ${formatLength(length, u)}${drive}`;
      return clean ? `${way}.` : `${way}; not clean. ${against ?? ''}`;
    })
    .join(' ');
}

export function ShowWay({ ways, name }: { ways: readonly WayTaken[]; name: string }) {
  const path = ways[0]?.path ?? [];
  if (path.length < 2) return null;
  return (
    <button type="button" class="quiet small" onClick={() => flyTo(null, path, 200)}>
      Where it runs<span class="unseen">: {name}</span>
    </button>
  );
}
