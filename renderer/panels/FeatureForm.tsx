import type { Feature } from '../../core/features/feature.ts';
import { fromTyped, lengthUnit, toTyped } from '../../core/features/units.ts';
import { putFeature, removeFeature } from '../state/editing.ts';
import { type FeatureRow, type Row, rowsOf } from '../state/rows.ts';
import { units } from '../state/session.ts';
import { table } from '../state/tables.ts';
import { FIELDS, type Field } from '../words/attributes.ts';
import { kindTitle, measureOf } from '../words/features.ts';
import { FromTheWalk } from './FromTheWalk.tsx';

/** Name, standing and attributes of one feature. Its points are dragged on the map while this is open. */
export function FeatureForm({ id }: { id: string }) {
  const row = rowsOf('features', table('features').value).find((item) => item.id === id)!;
  const fields = FIELDS[row.kind] ?? [];
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
            {field.type !== 'choice' && field.type !== 'text' && `, ${lengthUnit(field.type, units.value)}`}
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
  const shown = typeof value === 'number' ? toTyped(value, units.value, field.type) : '';
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

function typedValue(field: Field, text: string): string | number | null {
  if (text === '') return null;
  if (field.type === 'choice' || field.type === 'text') return text;
  const number = Number(text);
  return Number.isFinite(number) ? fromTyped(number, units.value, field.type) : null;
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
