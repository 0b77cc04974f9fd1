import Collection from 'ol/Collection.js';
import type Feature from 'ol/Feature.js';
import { type Geometry, LineString, Polygon } from 'ol/geom.js';
import Draw from 'ol/interaction/Draw.js';
import Modify from 'ol/interaction/Modify.js';
import Snap from 'ol/interaction/Snap.js';
import type OlMap from 'ol/Map.js';
import VectorSource from 'ol/source/Vector.js';
import CircleStyle from 'ol/style/Circle.js';
import Fill from 'ol/style/Fill.js';
import Stroke from 'ol/style/Stroke.js';
import Style from 'ol/style/Style.js';
import type { Shape } from '../words/drawable.ts';
import { createLineGrip } from './line-grip.ts';
import { INK } from './theme.ts';

export interface Pen {
  undo(): void;
  redo(): void;
  finish(): void;
  cancel(): void;
  addAt(points: [number, number][]): void;
  dispose(): void;
}

const SNAP = 12;

const sketchStyle = [
  new Style({
    stroke: new Stroke({ color: INK.paper, width: 5 }),
    fill: new Fill({ color: `${INK.tape}22` }),
  }),
  new Style({
    stroke: new Stroke({ color: INK.tape, width: 2.5 }),
    image: new CircleStyle({
      radius: 5,
      fill: new Fill({ color: INK.paper }),
      stroke: new Stroke({ color: INK.tape, width: 2.5 }),
    }),
  }),
];

/**
 * Draws one feature: by pointer, or point by point through `addAt` (the keyboard's crosshair and typed positions).
 * Points snap to what is there within 12 px. Undo and redo walk the sketch's own points.
 */
export function createPen(
  map: OlMap,
  shape: Shape,
  snapTo: VectorSource[],
  on: {
    change(
      points: number,
      redo: number,
      geometry: { length: number; area: number; leg: [number[], number[]] | null },
    ): void;
    done(geometry: { type: Shape; coordinates: unknown }): void;
    cancelled(): void;
  },
): Pen {
  const source = new VectorSource();
  const draw = new Draw({ source, type: shape, style: sketchStyle, snapTolerance: SNAP });
  const snaps = snapTo.map((s) => new Snap({ source: s, pixelTolerance: SNAP }));
  let sketch: Feature | null = null;
  let taken: number[][] = [];

  /** The points set so far, without the one that follows the pointer. */
  const placed = (): number[][] => {
    const geometry = sketch?.getGeometry();
    if (geometry instanceof LineString) return geometry.getCoordinates().slice(0, -1);
    if (geometry instanceof Polygon) return (geometry.getCoordinates()[0] ?? []).slice(0, -2);
    return [];
  };
  const tellChange = () => {
    const geometry = sketch?.getGeometry();
    const last = placed().at(-1);
    const follows = pointerOf(geometry);
    on.change(placed().length, taken.length, {
      length: geometry instanceof LineString ? geometry.getLength() : 0,
      area: geometry instanceof Polygon ? geometry.getArea() : 0,
      leg: last && follows ? [last, follows] : null,
    });
  };
  draw.on('drawstart', (event) => {
    sketch = event.feature;
    sketch.getGeometry()?.on('change', tellChange);
    tellChange();
  });
  draw.on('drawend', (event) => {
    const geometry = event.feature.getGeometry();
    sketch = null;
    taken = [];
    if (geometry instanceof LineString || geometry instanceof Polygon)
      on.done({ type: shape, coordinates: geometry.getCoordinates() });
    else if (geometry)
      on.done({
        type: 'Point',
        coordinates: (geometry as never as { getCoordinates(): number[] }).getCoordinates(),
      });
  });
  draw.on('drawabort', () => {
    sketch = null;
    on.change(0, taken.length, { length: 0, area: 0, leg: null });
  });
  map.addInteraction(draw);
  for (const snap of snaps) map.addInteraction(snap);

  return {
    undo() {
      const last = placed().at(-1);
      if (!last) return;
      taken.push(last);
      draw.removeLastPoint();
      tellChange();
    },
    redo() {
      const next = taken.pop();
      if (!next) return;
      draw.appendCoordinates([next] as never);
      tellChange();
    },
    finish() {
      const least = shape === 'Polygon' ? 3 : 2;
      if (placed().length >= least) draw.finishDrawing();
    },
    cancel() {
      taken = [];
      draw.abortDrawing();
      on.cancelled();
    },
    addAt(points) {
      taken = [];
      if (shape === 'Point') on.done({ type: 'Point', coordinates: points.at(-1)! });
      else draw.appendCoordinates(points as never);
      tellChange();
    },
    dispose() {
      map.removeInteraction(draw);
      for (const snap of snaps) map.removeInteraction(snap);
      source.dispose();
    },
  };
}

/** The point of a sketch that follows the pointer. */
function pointerOf(geometry: Geometry | undefined): number[] | null {
  if (geometry instanceof LineString) return geometry.getCoordinates().at(-1) ?? null;
  if (geometry instanceof Polygon) return geometry.getCoordinates()[0]?.at(-2) ?? null;
  return null;
}

/**
 * Lets the points of one feature be dragged; `done` gets the new shape when the pointer lets go. With `moving`, which is
 * told all through a drag, a line can be dragged as a whole as well.
 */
export function createReshaper(
  map: OlMap,
  feature: Feature,
  snapTo: VectorSource[],
  done: (feature: Feature) => void,
  moving?: (feature: Feature) => void,
): () => void {
  const modify = new Modify({ features: new Collection([feature]), pixelTolerance: 12 });
  const snaps = snapTo.map((s) => new Snap({ source: s, pixelTolerance: SNAP }));
  modify.on('modifyend', () => done(feature));
  const geometry = feature.getGeometry();
  const tell = () => moving?.(feature);
  if (moving) geometry?.on('change', tell);
  map.addInteraction(modify);
  const dropGrip =
    moving && geometry instanceof LineString ? createLineGrip(map, geometry, () => done(feature)) : null;
  for (const snap of snaps) map.addInteraction(snap);
  return () => {
    geometry?.un('change', tell);
    dropGrip?.();
    map.removeInteraction(modify);
    for (const snap of snaps) map.removeInteraction(snap);
  };
}
