import type { FeatureLike } from 'ol/Feature.js';
import OlFeature from 'ol/Feature.js';
import { LineString, Point as OlPoint } from 'ol/geom.js';
import PointerInteraction from 'ol/interaction/Pointer.js';
import VectorLayer from 'ol/layer/Vector.js';
import type OlMap from 'ol/Map.js';
import VectorSource from 'ol/source/Vector.js';
import CircleStyle from 'ol/style/Circle.js';
import Stroke from 'ol/style/Stroke.js';
import Style from 'ol/style/Style.js';
import type { Point } from '../../core/grid/frame.ts';
import { INK } from './theme.ts';

interface BrushStroke {
  path: readonly Point[];
  /** m. */
  width: number;
}

export interface Brush {
  /** Shows how wide it is, and strokes that are on their way. */
  show(width: number, strokes: readonly BrushStroke[]): void;
  dispose(): void;
}

/** Points nearer than this part of the width to the last one add nothing to a stroke. */
const STEP = 0.1;

/**
 * A brush in the hand: dragging the main button paints, and the map does not move with it. `done` gets each stroke, in
 * frame coordinates; a click without a drag is a dab.
 */
export function createBrush(map: OlMap, done: (path: Point[]) => void): Brush {
  let width = 1;
  let path: Point[] | null = null;
  let waiting: readonly BrushStroke[] = [];
  const source = new VectorSource();
  const round = new OlFeature(new OlPoint([Number.NaN, Number.NaN]));
  round.set('round', true);
  const layer = new VectorLayer({
    source,
    zIndex: 280,
    updateWhileInteracting: true,
    style: (feature: FeatureLike, resolution) => {
      const wide = Number(feature.get('width') ?? width) / resolution;
      return feature.get('round') ? rim(wide) : stroke(wide);
    },
  });
  const lay = () => {
    source.clear(true);
    for (const each of waiting) source.addFeature(lineOf(each.path, each.width));
    if (path) source.addFeature(lineOf(path, width));
    source.addFeature(round);
  };
  const at = (coordinate: number[]): Point => [coordinate[0]!, coordinate[1]!];
  const interaction = new PointerInteraction({
    handleDownEvent(event) {
      const { originalEvent } = event;
      if (originalEvent instanceof PointerEvent && (originalEvent.button !== 0 || !originalEvent.isPrimary))
        return false;
      path = [at(event.coordinate)];
      lay();
      return true;
    },
    handleDragEvent(event) {
      const next = at(event.coordinate);
      round.getGeometry()!.setCoordinates(next);
      const last = path!.at(-1)!;
      if (Math.hypot(next[0] - last[0], next[1] - last[1]) < STEP * width) return;
      path!.push(next);
      lay();
    },
    handleUpEvent() {
      const made = path!;
      path = null;
      done(made);
      return false;
    },
    handleMoveEvent(event) {
      round.getGeometry()!.setCoordinates(at(event.coordinate));
    },
  });
  map.addInteraction(interaction);
  map.addLayer(layer);
  return {
    show(wide, strokes) {
      width = wide;
      waiting = strokes;
      lay();
    },
    dispose() {
      map.removeInteraction(interaction);
      map.removeLayer(layer);
      source.dispose();
    },
  };
}

function lineOf(path: readonly Point[], width: number): OlFeature {
  const points = path.length > 1 ? path : [path[0]!, path[0]!];
  const line = new OlFeature(new LineString(points.map(([x, y]) => [x, y])));
  line.set('width', width);
  return line;
}

const stroke = (wide: number): Style =>
  new Style({
    stroke: new Stroke({
      color: `${INK.tape}80`,
      width: Math.max(2, wide),
      lineCap: 'round',
      lineJoin: 'round',
    }),
  });

/** The rim of the brush where the pointer is, light on dark ground and dark on light. */
const rim = (wide: number): Style[] =>
  [
    { color: INK.paper, width: 4 },
    { color: INK.ink, width: 1.5 },
  ].map(
    (line) =>
      new Style({ image: new CircleStyle({ radius: Math.max(2, wide / 2), stroke: new Stroke(line) }) }),
  );
