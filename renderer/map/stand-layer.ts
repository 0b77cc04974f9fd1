import type { FeatureCollection } from 'geojson';
import Collection from 'ol/Collection.js';
import type { FeatureLike } from 'ol/Feature.js';
import OlFeature from 'ol/Feature.js';
import GeoJSON from 'ol/format/GeoJSON.js';
import { Point as OlPoint } from 'ol/geom.js';
import Translate from 'ol/interaction/Translate.js';
import VectorLayer from 'ol/layer/Vector.js';
import type OlMap from 'ol/Map.js';
import VectorSource from 'ol/source/Vector.js';
import CircleStyle from 'ol/style/Circle.js';
import Fill from 'ol/style/Fill.js';
import RegularShape from 'ol/style/RegularShape.js';
import Stroke from 'ol/style/Stroke.js';
import Style from 'ol/style/Style.js';
import Text from 'ol/style/Text.js';
import type { Point } from '../../core/grid/frame.ts';
import type { SectorState } from '../../core/stands/types.ts';
import { hatch } from './patterns.ts';
import { FONT, INK } from './theme.ts';

/** What is asked about one stand, drawn over the map: sectors, lanes, ways in, and the seat itself to drag. */
export interface StandLayer {
  show(drawn: FeatureCollection): void;
  /** Where the seat is; null takes it off the map. */
  seat(at: Point | null): void;
  dispose(): void;
}

const CLOSED = '#8a1f00';
const OPEN = '#8a5a00';

const words = (text: string, colour: string, offsetY = 0): Text =>
  new Text({
    text,
    font: `700 12px ${FONT}`,
    fill: new Fill({ color: colour }),
    stroke: new Stroke({ color: INK.paper, width: 3.5 }),
    offsetY,
    overflow: true,
  });

const SECTOR: Record<SectorState, () => Style> = {
  closed: () =>
    new Style({
      fill: new Fill({ color: hatch('cross', CLOSED) }),
      stroke: new Stroke({ color: CLOSED, width: 1.6 }),
    }),
  open: () =>
    new Style({
      fill: new Fill({ color: hatch('rising', OPEN) }),
      stroke: new Stroke({ color: OPEN, width: 1, lineDash: [6, 4] }),
    }),
  unknown: () =>
    new Style({
      fill: new Fill({ color: hatch('dots', INK.stone) }),
      stroke: new Stroke({ color: INK.stone, width: 1, lineDash: [2, 4] }),
    }),
  checked: () => new Style({ stroke: new Stroke({ color: `${INK.cover}b0`, width: 1 }) }),
};

function sector(feature: FeatureLike): Style {
  const state = feature.get('state') as SectorState;
  const style = SECTOR[state]();
  const behind = feature.get('behind') as { what: string; stopped: boolean }[] | undefined;
  const what = state === 'closed' ? behind?.find(({ stopped }) => !stopped)?.what : undefined;
  if (what) {
    style.setText(words(what, CLOSED));
  }
  return style;
}

const WAYS: Record<string, { colour: string; dash: number[] }> = {
  quickest: { colour: INK.ink, dash: [2, 5] },
  hidden: { colour: INK.cover, dash: [12, 5] },
  balanced: { colour: INK.bedding, dash: [12, 4, 2, 4] },
};

function way(feature: FeatureLike): Style[] {
  const { colour, dash } = WAYS[String(feature.get('kind'))] ?? WAYS.quickest!;
  const line = new Style({
    stroke: new Stroke({ color: colour, width: 3, lineDash: dash, lineCap: 'butt' }),
  });
  line.setText(
    new Text({
      text: String(feature.get('says') ?? ''),
      font: `700 12px ${FONT}`,
      placement: 'line',
      textBaseline: 'bottom',
      fill: new Fill({ color: colour }),
      stroke: new Stroke({ color: INK.paper, width: 3.5 }),
    }),
  );
  return [new Style({ stroke: new Stroke({ color: INK.paper, width: 6 }) }), line];
}

const lane = (): Style[] => [
  new Style({ stroke: new Stroke({ color: INK.paper, width: 6 }) }),
  new Style({ stroke: new Stroke({ color: INK.tape, width: 2.5, lineDash: [4, 3, 1, 3] }) }),
];

const planting = (feature: FeatureLike): Style[] => {
  const line = new Style({
    stroke: new Stroke({ color: INK.cover, width: 5, lineDash: [2, 3], lineCap: 'butt' }),
  });
  line.setText(words(String(feature.get('says') ?? ''), INK.cover, -14));
  return [new Style({ stroke: new Stroke({ color: INK.paper, width: 8 }) }), line];
};

const site = (feature: FeatureLike): Style =>
  new Style({
    image: new CircleStyle({
      radius: 13,
      fill: new Fill({ color: INK.paper }),
      stroke: new Stroke({ color: INK.tape, width: 3 }),
    }),
    text: words(String(feature.get('says') ?? ''), INK.tape, 1),
    zIndex: 20,
  });

/** A site that only pays by another way in: the same ring, broken. */
const ifway = (feature: FeatureLike): Style =>
  new Style({
    image: new CircleStyle({
      radius: 12,
      fill: new Fill({ color: INK.paper }),
      stroke: new Stroke({ color: INK.stone, width: 2.5, lineDash: [4, 3] }),
    }),
    text: words(String(feature.get('says') ?? ''), INK.ink, 1),
    zIndex: 19,
  });

/** A place that looks good and is not proposed: a cross, named below. */
const passed = (feature: FeatureLike): Style =>
  new Style({
    image: new RegularShape({
      points: 4,
      radius: 8,
      radius2: 0,
      angle: Math.PI / 4,
      stroke: new Stroke({ color: CLOSED, width: 2.5 }),
    }),
    text: words(String(feature.get('says') ?? ''), CLOSED, 16),
    zIndex: 18,
  });

/** A place for a camera: a square on its corner. */
const camera = (feature: FeatureLike): Style =>
  new Style({
    image: new RegularShape({
      points: 4,
      radius: 14,
      fill: new Fill({ color: INK.paper }),
      stroke: new Stroke({ color: INK.cover, width: 2.5 }),
    }),
    text: words(String(feature.get('says') ?? ''), INK.cover, 1),
    zIndex: 17,
  });

const move = (): Style[] => [
  new Style({ stroke: new Stroke({ color: INK.paper, width: 6 }) }),
  new Style({ stroke: new Stroke({ color: INK.tape, width: 3, lineDash: [1, 6], lineCap: 'round' }) }),
];

const PAINT: Record<string, (feature: FeatureLike) => Style | Style[]> = {
  sector,
  way,
  lane,
  planting,
  site,
  ifway,
  passed,
  camera,
  move,
};

const seatStyle = new Style({
  image: new CircleStyle({
    radius: 9,
    fill: new Fill({ color: INK.tape }),
    stroke: new Stroke({ color: INK.paper, width: 3 }),
  }),
  zIndex: 30,
});

/** @param moved called all through a drag with where the seat is */
export function createStandLayer(map: OlMap, moved: (at: Point) => void): StandLayer {
  const format = new GeoJSON();
  const drawn = new VectorSource();
  const layer = new VectorLayer({
    source: drawn,
    declutter: 'names',
    style: (feature) => PAINT[String(feature.get('draws'))]?.(feature),
    zIndex: 98,
  });
  // Places stand over what is drawn on the ground, lines and sectors under it.
  const places = new VectorSource();
  const placeLayer = new VectorLayer({
    source: places,
    declutter: 'names',
    style: (feature) => PAINT[String(feature.get('draws'))]?.(feature),
    zIndex: 350,
  });
  const seats = new VectorSource();
  const seatLayer = new VectorLayer({ source: seats, style: seatStyle, zIndex: 400 });
  map.addLayer(layer);
  map.addLayer(placeLayer);
  map.addLayer(seatLayer);
  const point = new OlPoint([0, 0]);
  const seat = new OlFeature(point);
  const drag = new Translate({ features: new Collection([seat]), hitTolerance: 6 });
  drag.setActive(false);
  map.addInteraction(drag);
  let dragging = false;
  drag.on('translatestart', () => {
    dragging = true;
  });
  drag.on('translating', () => moved(point.getCoordinates() as Point));
  drag.on('translateend', () => {
    dragging = false;
    moved(point.getCoordinates() as Point);
  });
  return {
    show(collection) {
      const features = format.readFeatures(collection);
      const isPlace = (feature: OlFeature) => feature.getGeometry()?.getType() === 'Point';
      drawn.clear(true);
      places.clear(true);
      drawn.addFeatures(features.filter((feature) => !isPlace(feature)));
      places.addFeatures(features.filter(isPlace));
    },
    seat(at) {
      drag.setActive(at !== null);
      if (!at) seats.clear();
      else {
        // While it is dragged the pointer says where it is.
        if (!dragging) point.setCoordinates(at);
        if (seats.getFeatures().length === 0) seats.addFeature(seat);
      }
    },
    dispose() {
      map.removeInteraction(drag);
    },
  };
}
