import type { Geometry } from 'geojson';
import { removeFeature } from '../state/editing.ts';
import { brush, type PaintedCover, painting, putBrushDown, takeUpBrush } from '../state/painting.ts';
import { pointsOf, rowsOf } from '../state/rows.ts';
import { units } from '../state/session.ts';
import { table } from '../state/tables.ts';
import { flyTo } from '../state/view.ts';
import { measureOf } from '../words/features.ts';
import { Section } from './Finding.tsx';
import { LengthField } from './LengthField.tsx';

/** What the brush can paint, in the words of the legend. */
const CLASSES: Record<PaintedCover, string> = {
  open: 'Open ground',
  brush: 'Brush',
  deciduous: 'Deciduous timber',
  evergreen: 'Evergreen',
  wet: 'Wet ground',
  water: 'Water',
  built: 'Built',
};

const isPainted = (cover: unknown): cover is PaintedCover => typeof cover === 'string' && cover in CLASSES;

/** Correcting the cover by what was seen on the ground, with a brush. */
export function PaintCover() {
  const { cover, width } = brush.value;
  const seen = rowsOf('features', table('features').value).filter(({ kind }) => kind === 'truth');
  return (
    <Section title="Cover as you saw it" count={seen.length}>
      <p class="facts">
        Paint what you saw on the ground: it counts before the photo, and the last stroke before those under
        it. What hides a deer there is not told by a name and stays unknown.
      </p>
      <div class="ask-form">
        <label class="length" for="brush-cover">
          <span>Paints</span>
          <select
            id="brush-cover"
            value={cover}
            onChange={(event) => {
              brush.value = { width, cover: event.currentTarget.value as PaintedCover };
            }}
          >
            {Object.entries(CLASSES).map(([value, words]) => (
              <option key={value} value={value}>
                {words}
              </option>
            ))}
          </select>
        </label>
        <LengthField
          id="brush-width"
          label="Width"
          kind="distance"
          metres={width}
          least={0.9144}
          most={457.2}
          set={(next) => {
            brush.value = { cover, width: next };
          }}
        />
        <button
          type="button"
          class={painting.value ? 'strong' : 'quiet'}
          aria-pressed={painting.value}
          onClick={painting.value ? putBrushDown : takeUpBrush}
        >
          {painting.value ? 'Put the brush down' : 'Take up the brush'}
        </button>
      </div>
      <p class="hint" role="status">
        {painting.value
          ? 'Drag on the map: each stroke is one edit. The wheel and the arrow keys still move it; with the map in focus Space dabs at the cross, and Escape puts the brush down.'
          : 'By keyboard alone: take up the brush, then Space on the map; or draw “Cover as seen” under Work.'}
      </p>
      {seen.length > 0 && (
        <ul class="closures">
          {seen.map((row) => (
            <Seen key={row.id} id={row.id} cover={row.attributes.cover} shape={row.shape} />
          ))}
        </ul>
      )}
    </Section>
  );
}

function Seen({ id, cover, shape }: { id: string; cover: unknown; shape: Geometry }) {
  const words = isPainted(cover) ? CLASSES[cover] : 'Not said what';
  const area = measureOf(shape, units.value);
  return (
    <li>
      <p class="finding-title">
        {words}
        {area && <span class="unit"> {area}</span>}
      </p>
      <div class="steps">
        <button
          type="button"
          class="quiet small"
          onClick={() => flyTo({ type: 'feature', id }, pointsOf(shape), 200)}
        >
          Change it
          <span class="unseen">
            : {words}, {area}
          </span>
        </button>
        <button type="button" class="quiet small" onClick={() => void removeFeature(id)}>
          Remove
          <span class="unseen">
            : {words}, {area}
          </span>
        </button>
      </div>
    </li>
  );
}
