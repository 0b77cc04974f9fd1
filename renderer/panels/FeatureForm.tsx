import type { Feature } from '../../core/features/feature.ts';
import { FIELD_UNITS, fromTyped, lengthUnit, toTyped } from '../../core/features/units.ts';
import { startAim, stopAim } from '../state/aiming.ts';
import { putFeature, putFeatures, removeFeature } from '../state/editing.ts';
import { type FeatureRow, type Row, rowsOf } from '../state/rows.ts';
import { notice, units } from '../state/session.ts';
import { table } from '../state/tables.ts';
import { FIELDS, type Field } from '../words/attributes.ts';
import { kindTitle, measureOf, splitLine } from '../words/features.ts';
import { FromTheWalk } from './FromTheWalk.tsx';

/** Name, standing and attributes of one feature. Its points are dragged on the map while this is open. */
export function FeatureForm({ id }: { id: string }) {
  const row = rowsOf('features', table('features').value).find((item) => item.id === id)!;
  const fields = (FIELDS[row.kind] ?? []).filter(({ work }) => !work || row.status === 'proposed');
  const measure = measureOf(row.shape, units.value);

  const save = (event: SubmitEvent) => {
    event.preventDefault();
    const data = new FormData(event.currentTarget as HTMLFormElement);
    const text = (key: string) => String(data.get(key) ?? '').trim();
    const attributes = { ...row.attributes };
    for (const field of fields) {
      const value = typedValue(field, text(`a.${field.key}`));
      if (value === null) delete attributes[field.key];
      else attributes[field.key] = value;
    }
    void putFeature(
      {
        ...featureOf(row),
        name: text('name') || null,
        status: text('status') === 'proposed' ? 'proposed' : 'existing',
        attributes,
      },
      `${kindTitle(row.kind)} saved.`,
    );
  };

  return (
    <form class="feature-form" onSubmit={save} key={id}>
      <h2 class="detail-head" tabIndex={-1} data-detail-heading="">
        <span class={row.status === 'proposed' ? 'flag square open' : 'flag square'}>
          {kindTitle(row.kind)[0]}
        </span>
        <span>{row.name ?? kindTitle(row.kind)}</span>
      </h2>
      <p class="facts">
        {[kindTitle(row.kind), measure, row.source === 'drawn' ? 'drawn here' : `from ${row.source}`]
          .filter(Boolean)
          .join(', ')}
        . Drag its points on the map to reshape it.
      </p>
      <FromTheWalk attributes={row.attributes ?? {}} />
      <label class="field">
        <span>Name</span>
        <input name="name" maxLength={200} defaultValue={row.name ?? ''} autocomplete="off" />
      </label>
      {row.kind !== 'boundary' && (
        <label class="field">
          <span>Standing</span>
          <select name="status">
            <option value="existing" selected={row.status !== 'proposed'}>
              On the ground today (solid)
            </option>
            <option value="proposed" selected={row.status === 'proposed'}>
              Proposed (broken line)
            </option>
          </select>
        </label>
      )}
      {fields.map((field) => (
        <label class="field" key={field.key} for={`field-${field.key}`}>
          <span>
            {field.label}
            {(field.type === 'height' || field.type === 'distance') &&
              `, ${lengthUnit(field.type, units.value)}`}
            {field.type === 'measured' && `, ${FIELD_UNITS[field.unit][units.value][0]}`}
            {field.type === 'years' && ', years'}
          </span>
          <FieldInput field={field} row={row} />
        </label>
      ))}
      <div class="steps">
        <button type="submit" class="strong">
          Save
        </button>
        <button type="button" class="quiet danger" onClick={() => removeFeature(id)}>
          Remove
        </button>
        {row.shape.type === 'LineString' && (
          <button type="button" class="quiet" onClick={() => aimSplit(row)}>
            Split
          </button>
        )}
        {row.status === 'existing' && CAN_GO.has(row.kind) && (
          <button type="button" class="quiet" onClick={() => proposeAway(row)}>
            Propose taking it away
          </button>
        )}
      </div>
    </form>
  );
}

function FieldInput({ field, row }: { field: Field; row: FeatureRow }) {
  const value = row.attributes?.[field.key];
  if (field.type === 'choice')
    return (
      <select id={`field-${field.key}`} name={`a.${field.key}`}>
        <option value="">not said</option>
        {field.choices.map((choice) => (
          <option key={choice} value={choice} selected={choice === value}>
            {choice}
          </option>
        ))}
      </select>
    );
  if (field.type === 'text')
    return (
      <textarea
        id={`field-${field.key}`}
        name={`a.${field.key}`}
        rows={3}
        maxLength={2000}
        defaultValue={typeof value === 'string' ? value : ''}
      />
    );
  if (field.type === 'day')
    return (
      <input
        id={`field-${field.key}`}
        name={`a.${field.key}`}
        pattern="(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])"
        title="Month and day, two digits each: 11-07"
        placeholder="MM-DD"
        autocomplete="off"
        defaultValue={typeof value === 'string' ? value : ''}
      />
    );
  if (field.type === 'date')
    return (
      <input
        id={`field-${field.key}`}
        name={`a.${field.key}`}
        type="date"
        defaultValue={typeof value === 'string' ? value : ''}
      />
    );
  if (field.type === 'years')
    return (
      <input
        id={`field-${field.key}`}
        name={`a.${field.key}`}
        type="number"
        min="0"
        max="100"
        step="any"
        defaultValue={typeof value === 'number' ? String(value) : ''}
      />
    );
  const shown = typeof value === 'number' ? shownAs(field, value) : '';
  return (
    <input
      id={`field-${field.key}`}
      name={`a.${field.key}`}
      type="number"
      min="0"
      step="any"
      defaultValue={String(shown)}
    />
  );
}

/** Fields that hold a number, years apart. */
type Numbered = Extract<Field, { type: 'height' | 'distance' | 'measured' | 'count' }>;

/** Typed numbers come back as they were typed. */
function shownAs(field: Numbered, value: number): number {
  if (field.type === 'count') return value;
  if (field.type === 'measured')
    return Number((value / FIELD_UNITS[field.unit][units.value][1]).toPrecision(6));
  return toTyped(value, units.value, field.type);
}

function typedValue(field: Field, text: string): string | number | null {
  if (text === '') return null;
  if (field.type === 'choice' || field.type === 'text' || field.type === 'day' || field.type === 'date')
    return text;
  const number = Number(text);
  if (!Number.isFinite(number)) return null;
  if (field.type === 'years' || field.type === 'count') return number;
  if (field.type === 'measured') return number * FIELD_UNITS[field.unit][units.value][1];
  return fromTyped(number, units.value, field.type);
}

/** Kinds that stand in the way of deer, or let them through, and could be taken away. */
const CAN_GO: ReadonlySet<FeatureRow['kind']> = new Set([
  'fence',
  'barricade',
  'gap',
  'trail',
  'screen',
  'building',
]);

/** Proposes that what stands today be gone: travel is then compared without it. */
function proposeAway(row: Row<FeatureRow>): void {
  void putFeature(
    {
      ...featureOf(row),
      id: `drawn-${crypto.randomUUID()}`,
      status: 'proposed',
      name: `${row.name ?? kindTitle(row.kind)}, taken away`,
      attributes: { removes: row.id },
      source: 'drawn',
    },
    'Proposed. Travel is compared without it.',
  );
}

/** Waits for the place at which a line is to be cut in two. */
function aimSplit(row: Row<FeatureRow>): void {
  startAim({
    title: `Split ${row.name ?? kindTitle(row.kind)}`,
    places: ['Click the line where it is to be cut.'],
    done: async ([at]) => {
      stopAim();
      if (row.shape.type !== 'LineString') return;
      const [one, other] = splitLine(row.shape.coordinates, at!);
      if (!other) {
        notice.value = 'There is nothing to cut at the end of a line.';
        return;
      }
      const feature = featureOf(row);
      const name = row.name === null ? null : `${row.name}, second part`;
      const cut = { ...feature, id: `drawn-${crypto.randomUUID()}`, name };
      await putFeatures(
        `Split ${row.name ?? kindTitle(row.kind)}`,
        [
          { ...feature, geometry: { type: 'LineString', coordinates: one } },
          { ...cut, geometry: { type: 'LineString', coordinates: other } },
        ],
        'Split in two. Undo puts it together again.',
      );
    },
  });
}

/** The row as the feature it came from. */
export const featureOf = (row: Row<FeatureRow>): Feature => ({
  id: row.id,
  kind: row.kind,
  status: row.status,
  name: row.name,
  geometry: row.shape,
  attributes: row.attributes ?? {},
  source: row.source,
});
