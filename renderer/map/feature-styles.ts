import type { FeatureLike } from 'ol/Feature.js';
import { LineString, MultiLineString, MultiPoint, MultiPolygon, Polygon } from 'ol/geom.js';
import CircleStyle from 'ol/style/Circle.js';
import Fill from 'ol/style/Fill.js';
import RegularShape from 'ol/style/RegularShape.js';
import Stroke from 'ol/style/Stroke.js';
import Style from 'ol/style/Style.js';
import Text from 'ol/style/Text.js';
import type { FeatureKind } from '../../core/features/feature.ts';
import { type Hatch, hatch } from './patterns.ts';
import { FONT, INK } from './theme.ts';

interface Look {
  colour: string;
  width: number;
  /** Short strokes across the line, as on a fence: gap between them, px. */
  ticks?: number;
  /** A wide pale line under the coloured one, as on a road. */
  casing?: true;
  fill?: Hatch;
  /** Letter in the mark of a point. */
  letter?: string;
}

const LOOKS: Record<Exclude<FeatureKind, 'boundary'>, Look> = {
  road: { colour: INK.road, width: 3, casing: true },
  railroad: { colour: INK.ink, width: 1.6, ticks: 8 },
  creek: { colour: INK.water, width: 3 },
  pond: { colour: INK.water, width: 1.5, fill: 'level' },
  fence: { colour: '#5c4a3a', width: 1.4, ticks: 14 },
  gap: { colour: INK.ink, width: 2, letter: '‖' },
  trail: { colour: '#7a4a12', width: 1.6 },
  powerline: { colour: INK.stone, width: 1.2, ticks: 40 },
  building: { colour: INK.ink, width: 1.5, fill: 'cross' },
  bedding: { colour: INK.bedding, width: 1.8, fill: 'rising', letter: 'B' },
  food: { colour: '#7a5600', width: 1.8, fill: 'dots', letter: 'F' },
  crop: { colour: INK.food, width: 1.4, fill: 'falling' },
  stand: { colour: INK.ink, width: 2, letter: 'S' },
  access: { colour: INK.ink, width: 1.6, letter: 'A' },
  barricade: { colour: '#7d2b00', width: 4, ticks: 6 },
  screen: { colour: INK.cover, width: 4 },
  cut: { colour: INK.cover, width: 1.8, fill: 'cross' },
  opening: { colour: '#7a5600', width: 1.8, fill: 'level' },
  conifers: { colour: INK.cover, width: 3, fill: 'dots', letter: 'C' },
  feeder: { colour: '#7d2b00', width: 2, letter: 'X' },
  note: { colour: INK.tape, width: 1.6, letter: 'N' },
  walk: { colour: INK.tape, width: 1.2, ticks: 60 },
  truth: { colour: INK.cover, width: 1.6, fill: 'level' },
  sighting: { colour: INK.ink, width: 1.6, letter: 'T' },
  quiet: { colour: INK.stone, width: 2, fill: 'level', ticks: 10 },
  observation: { colour: INK.ink, width: 1.6, letter: 'O' },
  visit: { colour: INK.ink, width: 1.6, letter: 'V' },
};

/** Existing lines are solid, proposed ones broken, whatever the kind. */
const BROKEN = [11, 8];

export function featureStyle(feature: FeatureLike, resolution: number, chosen: boolean): Style[] | undefined {
  const kind = String(feature.get('kind')) as FeatureKind;
  if (kind === 'boundary') return undefined;
  const look = LOOKS[kind];
  if (!look) return undefined;
  const proposed = feature.get('status') === 'proposed';
  const shape = feature.getGeometry()?.getType() ?? '';
  if (shape.endsWith('Point')) return pointStyles(look, proposed, chosen, feature, resolution);
  const styles: Style[] = [];
  const width = look.width + (chosen ? 2 : 0);
  const dash = proposed ? { lineDash: BROKEN, lineCap: 'butt' as const } : {};
  if (chosen) styles.push(new Style({ stroke: new Stroke({ color: `${INK.tape}`, width: width + 5 }) }));
  if (look.casing && !proposed)
    styles.push(new Style({ stroke: new Stroke({ color: INK.road, width: width + 2 }) }));
  else if (!chosen)
    styles.push(new Style({ stroke: new Stroke({ color: '#ffffffc0', width: width + 2.5 }) }));
  styles.push(
    new Style({
      stroke: new Stroke({ color: look.casing && !proposed ? '#f3efe2' : look.colour, width, ...dash }),
      ...(look.fill && shape.endsWith('Polygon')
        ? { fill: new Fill({ color: hatch(look.fill, look.colour) }) }
        : {}),
    }),
  );
  if (look.ticks)
    styles.push(
      new Style({
        stroke: new Stroke({
          color: look.colour,
          width: width + 6,
          lineDash: [1.4, look.ticks],
          lineCap: 'butt',
        }),
      }),
    );
  if (chosen) styles.push(verticesStyle);
  const name = feature.get('name') as string | null;
  const isArea = shape.endsWith('Polygon');
  if (name && resolution < (isArea ? 6 : 3)) {
    const geometry = feature.getGeometry();
    styles.push(
      new Style({
        text: nameText(name, !isArea),
        // Letters set along every small bend fall apart; along the line's general run they hold together.
        ...(geometry instanceof LineString ? { geometry: geometry.simplify(resolution * 14) } : {}),
      }),
    );
  }
  return styles;
}

/** The points of a chosen feature, which can be dragged. */
const verticesStyle = new Style({
  image: new CircleStyle({
    declutterMode: 'obstacle',
    radius: 5,
    fill: new Fill({ color: INK.paper }),
    stroke: new Stroke({ color: INK.tape, width: 2.5 }),
  }),
  geometry: (feature) => {
    const shape = feature.getGeometry();
    if (shape instanceof LineString) return new MultiPoint(shape.getCoordinates());
    if (shape instanceof Polygon) return new MultiPoint(shape.getCoordinates().flat());
    if (shape instanceof MultiLineString) return new MultiPoint(shape.getCoordinates().flat());
    if (shape instanceof MultiPolygon) return new MultiPoint(shape.getCoordinates().flat(2));
    return undefined;
  },
  zIndex: 20,
});

function pointStyles(
  look: Look,
  proposed: boolean,
  chosen: boolean,
  feature: FeatureLike,
  resolution: number,
): Style[] {
  const ink = chosen ? INK.tape : look.colour;
  const stroke = new Stroke({ color: ink, width: 2, ...(proposed ? { lineDash: [4, 3] } : {}) });
  const fill = new Fill({ color: INK.paper });
  const zIndex = chosen ? 10 : 1;
  const mark = new Style({
    image:
      look.letter === 'S'
        ? new RegularShape({
            declutterMode: 'obstacle',
            points: 4,
            radius: 12,
            angle: Math.PI / 4,
            fill,
            stroke,
          })
        : new CircleStyle({ declutterMode: 'obstacle', radius: 8.5, fill, stroke }),
    text: new Text({
      declutterMode: 'obstacle',
      text: look.letter ?? '•',
      font: `700 12px ${FONT}`,
      fill: new Fill({ color: ink }),
      offsetY: 1,
    }),
    zIndex,
  });
  const name = feature.get('name') as string | null;
  if (!name || resolution > 3) return [mark];
  const text = nameText(name, false);
  text.setOffsetY(24);
  return [mark, new Style({ text, zIndex })];
}

const nameText = (name: string, along: boolean): Text =>
  new Text({
    text: name,
    font: `600 12px ${FONT}`,
    fill: new Fill({ color: INK.ink }),
    stroke: new Stroke({ color: INK.paper, width: 3 }),
    ...(along
      ? { placement: 'line' as const, maxAngle: 0.4, textBaseline: 'bottom' as const }
      : { overflow: true }),
  });
