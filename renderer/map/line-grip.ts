import Collection from 'ol/Collection.js';
import OlFeature from 'ol/Feature.js';
import { type LineString, Point as OlPoint } from 'ol/geom.js';
import Translate from 'ol/interaction/Translate.js';
import VectorLayer from 'ol/layer/Vector.js';
import type OlMap from 'ol/Map.js';
import VectorSource from 'ol/source/Vector.js';
import Fill from 'ol/style/Fill.js';
import RegularShape from 'ol/style/RegularShape.js';
import Stroke from 'ol/style/Stroke.js';
import Style from 'ol/style/Style.js';
import { INK } from './theme.ts';

const gripStyle = new Style({
  image: new RegularShape({
    points: 4,
    radius: 9,
    fill: new Fill({ color: INK.paper }),
    stroke: new Stroke({ color: INK.tape, width: 2.5 }),
  }),
});

/** A grip in the middle of a line by which all of it is dragged; its points are dragged one by one as ever. */
export function createLineGrip(map: OlMap, line: LineString, done: () => void): () => void {
  const middle = new OlPoint(line.getCoordinateAt(0.5));
  const grip = new OlFeature(middle);
  const layer = new VectorLayer({
    source: new VectorSource({ features: [grip] }),
    style: gripStyle,
    zIndex: 410,
  });
  const drag = new Translate({ features: new Collection([grip]), hitTolerance: 6 });
  let before = middle.getCoordinates();
  let dragging = false;
  drag.on('translatestart', () => {
    dragging = true;
    before = middle.getCoordinates();
  });
  drag.on('translating', () => {
    const [x, y] = middle.getCoordinates() as [number, number];
    line.translate(x - before[0]!, y - before[1]!);
    before = [x, y];
  });
  drag.on('translateend', () => {
    dragging = false;
    done();
  });
  const keep = () => {
    if (!dragging) middle.setCoordinates(line.getCoordinateAt(0.5));
  };
  line.on('change', keep);
  map.addLayer(layer);
  map.addInteraction(drag);
  return () => {
    line.un('change', keep);
    map.removeInteraction(drag);
    map.removeLayer(layer);
  };
}
