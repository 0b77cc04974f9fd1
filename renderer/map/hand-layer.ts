import type { FeatureCollection } from 'geojson';
import type { FeatureLike } from 'ol/Feature.js';
import GeoJSON from 'ol/format/GeoJSON.js';
import { type LineString, Point as OlPoint } from 'ol/geom.js';
import VectorLayer from 'ol/layer/Vector.js';
import VectorSource from 'ol/source/Vector.js';
import CircleStyle from 'ol/style/Circle.js';
import Fill from 'ol/style/Fill.js';
import RegularShape from 'ol/style/RegularShape.js';
import Stroke from 'ol/style/Stroke.js';
import Style from 'ol/style/Style.js';
import Text from 'ol/style/Text.js';
import { FONT, INK } from './theme.ts';

/** Widths of a way on that nobody goes and that all go, px. */
const SLIGHT = 2;
const ALL = 13;

/** A way on: as wide as its share, with an arrow and the share at its end. */
function onward(feature: FeatureLike): Style[] {
  const width = SLIGHT + (ALL - SLIGHT) * Number(feature.get('share'));
  const line = feature.getGeometry() as LineString;
  const path = line.getCoordinates();
  const [tip, before] = [path.at(-1)!, path.at(-2) ?? path.at(-1)!];
  const turn = Math.atan2(tip[0]! - before[0]!, tip[1]! - before[1]!);
  const head = (radius: number, colour: string, text?: Text): Style =>
    new Style({
      geometry: new OlPoint(tip),
      image: new RegularShape({ points: 3, radius, rotation: turn, fill: new Fill({ color: colour }) }),
      ...(text && { text }),
    });
  const away = 20 + width / 2;
  return [
    new Style({ stroke: new Stroke({ color: `${INK.paper}d0`, width: width + 3.5, lineCap: 'round' }) }),
    head(width / 2 + 9.5, `${INK.paper}d0`),
    new Style({ stroke: new Stroke({ color: INK.tape, width, lineCap: 'round' }) }),
    head(
      width / 2 + 7,
      INK.tape,
      new Text({
        text: String(feature.get('says')),
        font: `700 13px ${FONT}`,
        fill: new Fill({ color: INK.ink }),
        stroke: new Stroke({ color: INK.paper, width: 4 }),
        offsetX: away * Math.sin(turn),
        offsetY: -away * Math.cos(turn),
        overflow: true,
      }),
    ),
  ];
}

const hand = (): Style =>
  new Style({
    image: new CircleStyle({
      radius: 6,
      fill: new Fill({ color: INK.paper }),
      stroke: new Stroke({ color: INK.ink, width: 2.5 }),
    }),
  });

/** Where scent is over the usual threshold, and over that of a keen nose alone: hatched and dashed apart. */
const usual = (): Style =>
  new Style({
    fill: new Fill({ color: `${INK.air}4d` }),
    stroke: new Stroke({ color: INK.air, width: 1.8 }),
  });
const keen = (): Style =>
  new Style({
    fill: new Fill({ color: `${INK.air}1f` }),
    stroke: new Stroke({ color: INK.air, width: 1.4, lineDash: [5, 4] }),
  });

/** A line of travel that a dragged proposal turns: where it runs now, and dashed where it runs today. */
const rerouted = (): Style[] => [
  new Style({ stroke: new Stroke({ color: `${INK.paper}b0`, width: 4.5 }), zIndex: 2 }),
  new Style({ stroke: new Stroke({ color: INK.tape, width: 2 }), zIndex: 3 }),
];
const was = (): Style =>
  new Style({ stroke: new Stroke({ color: INK.ink, width: 1.5, lineDash: [2, 5] }), zIndex: 1 });

const PAINT: Record<string, (feature: FeatureLike) => Style | Style[]> = {
  onward,
  hand,
  usual,
  keen,
  rerouted,
  was,
};

/** What is told of the spot under the hand, over everything that is drawn on the ground. */
export function createHandLayer(): { layer: VectorLayer; show(drawn: FeatureCollection): void } {
  const format = new GeoJSON();
  const source = new VectorSource();
  const layer = new VectorLayer({
    source,
    style: (feature) => PAINT[String(feature.get('draws'))]?.(feature),
    zIndex: 300,
    // Ways reach beyond what is in view.
    renderBuffer: 200,
  });
  return {
    layer,
    show(drawn) {
      source.clear(true);
      source.addFeatures(format.readFeatures(drawn));
    },
  };
}
