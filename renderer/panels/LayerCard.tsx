import { marksOf, paintOf } from '../map/stage-map.ts';
import { overlays } from '../state/answers.ts';
import { summary } from '../state/session.ts';
import { MARK_TITLE, PAINT_TITLE } from '../state/stages.ts';
import {
  choose,
  chooseOverlay,
  type LayerChoice,
  layersOpen,
  overlayChoice,
  shown,
  stage,
} from '../state/view.ts';
import { Glyph } from './Glyph.tsx';
import { type LegendOf, LegendRows } from './LegendRows.tsx';
import { MarkSample } from './MarkSample.tsx';
import { PictureRows } from './map/PictureRows.tsx';
import { Strength } from './Strength.tsx';

/** What is on the map in this stage: on or off, how strong, and what its colours and marks mean. */
export function LayerCard() {
  const property = summary.value!;
  const paint = paintOf(stage.value, shown.value, property).toReversed();
  const marks = marksOf(stage.value, shown.value, property).toReversed();
  if (!layersOpen.value)
    return (
      <button
        type="button"
        class="card-open"
        aria-expanded="false"
        data-layers-toggle=""
        onClick={() => fold(true)}
      >
        On the map
      </button>
    );
  return (
    <section class="card layers" aria-label="On the map">
      <header>
        <h2>On the map</h2>
        <button type="button" class="icon fold" data-layers-toggle="" onClick={() => fold(false)}>
          <Glyph name="close" size={16} />
          <span class="unseen">Fold away</span>
        </button>
      </header>
      <div class="card-scroll">
        <ul>
          {marks.map(({ layer, on }) => (
            <li key={layer}>
              <label class="layer">
                <input
                  type="checkbox"
                  checked={on}
                  onChange={(event) => choose(layer, { on: event.currentTarget.checked })}
                />
                <MarkSample layer={layer} />
                <span>{MARK_TITLE[layer]}</span>
              </label>
            </li>
          ))}
        </ul>
        {overlays.value.length > 0 && (
          <ul aria-label="Answers">
            {overlays.value.map(({ id, kind, title }) => (
              <PaintRow
                key={kind}
                title={title}
                {...overlayChoice(kind)}
                change={(by) => chooseOverlay(kind, by)}
                legend={{ version: `overlay ${id} ${property.units}`, overlay: id }}
              />
            ))}
          </ul>
        )}
        <ul>
          {paint.map(({ layer, key, on, opacity }) => (
            <PaintRow
              key={layer}
              title={PAINT_TITLE[layer]}
              on={on}
              opacity={opacity}
              change={(by) => choose(layer, by)}
              legend={
                layer === 'shade' || layer === 'imagery'
                  ? null
                  : { version: `${layer} ${key} ${property.units}`, layer }
              }
            />
          ))}
        </ul>
        <PictureRows />
      </div>
    </section>
  );
}

/** One painted picture: shown or not, how strong, and what its colours mean. */
function PaintRow(props: {
  title: string;
  on: boolean;
  opacity: number;
  change(by: Partial<LayerChoice>): void;
  legend: LegendOf | null;
}) {
  const { title, on, opacity, change, legend } = props;
  return (
    <li class={on ? 'painted on' : 'painted'}>
      <label class="layer">
        <input
          type="checkbox"
          checked={on}
          onChange={(event) => change({ on: event.currentTarget.checked })}
        />
        <span>{title}</span>
      </label>
      {on && (
        <>
          <Strength of={title} opacity={opacity} change={(opacity) => change({ opacity })} />
          {legend && <LegendRows of={legend} />}
        </>
      )}
    </li>
  );
}

/** Folds the card away or out; the focus goes to the button that undoes it. */
function fold(open: boolean): void {
  layersOpen.value = open;
  requestAnimationFrame(() => document.querySelector<HTMLElement>('[data-layers-toggle]')?.focus());
}
