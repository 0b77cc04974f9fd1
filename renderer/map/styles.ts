import type { FeatureLike } from 'ol/Feature.js';
import { LineString, MultiLineString, Point, Polygon } from 'ol/geom.js';
import CircleStyle from 'ol/style/Circle.js';
import Fill from 'ol/style/Fill.js';
import RegularShape from 'ol/style/RegularShape.js';
import Stroke from 'ol/style/Stroke.js';
import Style from 'ol/style/Style.js';
import Text from 'ol/style/Text.js';
import type { FeatureKind } from '../../core/features/feature.ts';
import { formatLength, formatShare, type Units } from '../../core/features/units.ts';
import type { MarkLayer } from '../state/stages.ts';
import type { Selection } from '../state/view.ts';
import { kindTitle } from '../words/features.ts';
import { askedLine } from './asked-lines.ts';
import { featureStyle } from './feature-styles.ts';
import { hatch } from './patterns.ts';
import { FONT, INK } from './theme.ts';

/** Everything drawn as lines and marks: the layers a person can choose, and what answers to questions draw. */
export type MapLayer = MarkLayer | 'asked';

export interface StyleContext {
  units: Units;
  chosen: Selection | null;
}

type Painter = (
  feature: FeatureLike,
  resolution: number,
  context: StyleContext,
) => Style | Style[] | undefined;

const halo = (width = 3) => new Stroke({ color: INK.paper, width });
const stroke = (color: string, width: number, lineDash?: number[]) =>
  new Stroke({ color, width, ...(lineDash ? { lineDash } : {}), lineCap: lineDash ? 'butt' : 'round' });

const label = (
  text: string,
  options: { colour?: string; size?: number; along?: boolean; offsetY?: number; weight?: number } = {},
): Text =>
  new Text({
    text,
    font: `${options.weight ?? 600} ${options.size ?? 12}px ${FONT}`,
    fill: new Fill({ color: options.colour ?? INK.ink }),
    stroke: halo(3.5),
    ...(options.along ? { placement: 'line' as const, maxAngle: 0.7, repeat: 600 } : {}),
    offsetY: options.offsetY ?? 0,
    overflow: false,
  });

const isChosen = (feature: FeatureLike, type: Selection['type'], { chosen }: StyleContext): boolean =>
  chosen?.type === type && chosen.id === String(feature.getId() ?? feature.get('id'));

/** The place a row points to: its own `at`, else the middle of its shape. */
function placeOf(feature: FeatureLike): number[] {
  const at = feature.get('at') as unknown;
  if (Array.isArray(at) && at.length === 2) return at as number[];
  const geometry = feature.getGeometry();
  if (geometry instanceof Point) return geometry.getCoordinates();
  if (geometry instanceof LineString) return geometry.getCoordinateAt(0.5);
  const extent = geometry?.getExtent() ?? [0, 0, 0, 0];
  return [(extent[0]! + extent[2]!) / 2, (extent[1]! + extent[3]!) / 2];
}

/** The line across the passage, in whichever column it comes. */
function acrossOf(feature: FeatureLike): LineString | null {
  const geometry = feature.getGeometry();
  if (geometry instanceof LineString) return geometry;
  const line = feature.get('line') as unknown;
  return Array.isArray(line) && line.length === 2 ? new LineString(line as number[][]) : null;
}

/** Short lines are noise from afar: a line shows once it is this many pixels long. */
const longEnough = (feature: FeatureLike, resolution: number, pixels: number): boolean => {
  const length = Number(feature.get('length'));
  return Number.isNaN(length) || length >= pixels * resolution;
};

const contours: Painter = (feature, resolution, { units }) => {
  const index = feature.get('index') === true;
  // Thin lines closer than a few pixels would turn the map brown.
  if (!index && resolution > 4) return undefined;
  const faint = resolution > 12;
  const style = new Style({
    stroke: index
      ? stroke(`${INK.contour}${faint ? '70' : 'd0'}`, faint ? 0.8 : 1.4)
      : stroke(`${INK.contour}80`, 0.8),
  });
  if (index && resolution < 6)
    style.setText(
      label(formatLength(Number(feature.get('elevation')), units, 'height'), {
        colour: INK.contour,
        size: 11,
        along: true,
      }),
    );
  return style;
};

const drainage: Painter = (feature, resolution) => {
  if (!longEnough(feature, resolution, 8)) return undefined;
  const order = Number(feature.get('order') ?? 1);
  const slim = resolution > 12 ? 0.55 : 1;
  return [
    new Style({ stroke: stroke('#ffffffa0', (1.6 + order * 0.9) * slim) }),
    new Style({ stroke: stroke(INK.water, (0.6 + order * 0.75) * slim) }),
  ];
};

/** Stations along a channel: a bar that grows with the depth of the bed; hollow where it could not be measured. */
const channels: Painter = (feature, resolution, context) => {
  const chosen = isChosen(feature, 'channel', context);
  const sides = [feature.get('left'), feature.get('right')].filter((side) => typeof side === 'number');
  const measured = sides.length > 0;
  if (!chosen && resolution > (measured ? 5 : 2)) return undefined;
  const depth = measured ? Math.min(...(sides as number[])) : 0;
  const style = new Style({
    geometry: new Point(placeOf(feature)),
    image: new CircleStyle({
      declutterMode: 'obstacle',
      radius: chosen ? 9 : measured ? 3 + Math.min(5, depth * 1.5) : 2.5,
      fill: new Fill({ color: chosen ? INK.tape : measured ? INK.water : INK.paper }),
      stroke: new Stroke({ color: measured || chosen ? INK.paper : INK.water, width: 1.4 }),
    }),
    zIndex: chosen ? 10 : depth,
  });
  if (measured && (chosen || resolution < 1.5))
    style.setText(label(formatLength(depth, context.units, 'height'), { colour: '#084b7e', offsetY: 16 }));
  return style;
};

/** Answers: a heavy tape line round ground, along a line of sight, and named spots. */
const asked: Painter = (feature) => {
  const says = String(feature.get('says') ?? '');
  const geometry = feature.getGeometry();
  const named = /^(closure|draft)-/.test(String(feature.getId()));
  if (feature.getGeometry()?.getType() !== 'Point') {
    const { width, colour, dash } = askedLine(String(feature.getId()));
    return [
      new Style({ stroke: stroke(INK.paper, width + 2.9) }),
      new Style({
        stroke: stroke(colour, width, dash),
        ...(feature.getId() === 'catchment' ? { fill: new Fill({ color: hatch('rising', INK.tape) }) } : {}),
      }),
      ...(named && (geometry instanceof LineString || geometry instanceof Polygon)
        ? [
            new Style({
              geometry:
                geometry instanceof LineString
                  ? new Point(geometry.getCoordinateAt(0.5))
                  : geometry.getInteriorPoint(),
              text: label(says, { colour: INK.tape, offsetY: 15, weight: 700 }),
            }),
          ]
        : []),
    ];
  }
  const hides = feature.getId() === 'obstruction';
  const style = new Style({
    image: hides
      ? new RegularShape({
          points: 3,
          radius: 11,
          fill: new Fill({ color: INK.tape }),
          stroke: halo(2),
        })
      : new CircleStyle({
          radius: 6,
          fill: new Fill({ color: INK.paper }),
          stroke: new Stroke({ color: INK.tape, width: 3 }),
        }),
    zIndex: 2000,
  });
  if (says) style.setText(label(says, { colour: INK.tape, offsetY: 19, weight: 700 }));
  return style;
};

const ridges: Painter = (feature, resolution) =>
  longEnough(feature, resolution, 25)
    ? new Style({ stroke: stroke(`${INK.ridge}c0`, resolution > 12 ? 1.2 : 2, [10, 4, 2, 4]) })
    : undefined;

const draws: Painter = (feature, resolution) =>
  longEnough(feature, resolution, 25) ? new Style({ stroke: stroke(INK.cold, 1.6, [2, 5]) }) : undefined;

const saddles: Painter = (feature, resolution, context) => {
  const chosen = isChosen(feature, 'saddle', context);
  // From afar only the deep ones; every saddle of a county would hide the ground.
  if (!chosen && Number(feature.get('rise') ?? 0) < resolution / 2) return undefined;
  const style = new Style({
    geometry: new Point(placeOf(feature)),
    image: new RegularShape({
      declutterMode: 'obstacle',
      points: 4,
      radius: chosen ? 11 : 7.5,
      radius2: chosen ? 5 : 3.2,
      angle: Math.PI / 4,
      fill: new Fill({ color: chosen ? INK.tape : INK.ridge }),
      stroke: halo(1.5),
    }),
    zIndex: chosen ? 10 : 1,
  });
  if (resolution < 2.5) style.setText(label('saddle', { colour: INK.ridge, offsetY: 17 }));
  return style;
};

const benches: Painter = (feature, resolution, context) => {
  const chosen = isChosen(feature, 'bench', context);
  const style = new Style({
    fill: new Fill({ color: hatch('level', INK.bench) }),
    stroke: stroke(chosen ? INK.tape : INK.bench, chosen ? 3 : 1.2),
  });
  if (resolution < 2.5) style.setText(label('bench', { colour: '#5c4900' }));
  return style;
};

const blocks: Painter = (feature, resolution) => {
  const style = new Style({ stroke: stroke(INK.cover, 1.6, [8, 3]) });
  if (resolution < 4)
    style.setText(label(`block ${feature.get('id') ?? feature.getId()}`, { colour: INK.cover }));
  return style;
};

/** Ends of travel the tool chose; those a person drew show themselves. */
const areas: Painter = (feature) => {
  if (feature.get('source') === 'drawn') return undefined;
  const kind = String(feature.get('kind'));
  const colour = kind === 'bedding' ? INK.bedding : kind === 'food' ? '#7a5600' : INK.cover;
  return new Style({
    geometry: new Point(placeOf(feature)),
    image: new CircleStyle({
      declutterMode: 'obstacle',
      radius: 4,
      fill: new Fill({ color: INK.paper }),
      stroke: new Stroke({ color: colour, width: 2 }),
    }),
    text: label(String(feature.get('name') ?? kind), { colour, offsetY: 17 }),
  });
};

/** Rings as one shape filled even-odd, so that holes stay open whichever ring they come with. */
const bandStyle = (band: number[][][]): Style =>
  new Style({
    geometry: new MultiLineString(band),
    renderer: (pixels, { context: pen }) => {
      pen.beginPath();
      for (const ring of pixels as number[][][]) {
        ring.forEach(([x, y], i) => {
          if (i === 0) pen.moveTo(x!, y!);
          else pen.lineTo(x!, y!);
        });
        pen.closePath();
      }
      pen.fillStyle = `${INK.corridor}2e`;
      pen.fill('evenodd');
      pen.setLineDash([3, 4]);
      pen.lineWidth = 1;
      pen.strokeStyle = `${INK.corridor}b0`;
      pen.stroke();
    },
  });

const bands = new WeakMap<object, Style>();

/** Every way between the two ends that costs hardly more than the cheapest. */
const corridorBands: Painter = (feature) => {
  const band = feature.get('band') as number[][][] | undefined;
  if (!band || band.length === 0) return undefined;
  let style = bands.get(band);
  if (!style) {
    style = bandStyle(band);
    bands.set(band, style);
  }
  return style;
};

/** The cheapest way, as wide as its share. */
const corridors: Painter = (feature) => {
  const width = 1.6 + Math.min(1, Number(feature.get('share') ?? 0)) * 8;
  return [
    new Style({ stroke: stroke('#ffffffb0', width + 2) }),
    new Style({ stroke: stroke(INK.corridor, width) }),
  ];
};

const CROSSING_LETTER: Record<string, string> = {
  road: 'R',
  railroad: 'T',
  creek: 'C',
  fence: 'F',
  barricade: 'B',
  'ownership line': 'L',
};

const crossings: Painter = (feature, resolution, context) => {
  const chosen = isChosen(feature, 'crossing', context);
  if (resolution > 6 && !chosen) return undefined;
  // Where a fence runs on the line, two crossings fall on one spot; the greater share is drawn.
  const giving = chosen ? 'obstacle' : 'declutter';
  return new Style({
    geometry: new Point(placeOf(feature)),
    image: new RegularShape({
      declutterMode: giving,
      points: 4,
      radius: chosen ? 13 : 10,
      fill: new Fill({ color: chosen ? INK.tape : INK.paper }),
      stroke: new Stroke({ color: chosen ? INK.paper : INK.ink, width: 1.5 }),
    }),
    text: new Text({
      declutterMode: giving,
      text: CROSSING_LETTER[String(feature.get('kind'))] ?? '?',
      font: `700 11px ${FONT}`,
      fill: new Fill({ color: chosen ? INK.paper : INK.ink }),
      offsetY: 1,
    }),
    zIndex: chosen ? 10 : 1,
  });
};

/** Sampled ways, thin, so that many together show where they bundle. */
const routes: Painter = () => new Style({ stroke: stroke(`${INK.corridor}90`, 1.2) });

/** A junction: its strands as short spokes round a ring, north up. */
const junctions: Painter = (feature, resolution, context) => {
  const chosen = isChosen(feature, 'junction', context);
  const [x, y] = placeOf(feature) as [number, number];
  const arms = (feature.get('arms') ?? []) as { bearing: number; share: number }[];
  const spokes = new MultiLineString(
    arms.map(({ bearing }) => {
      const turn = (bearing * Math.PI) / 180;
      const far = (chosen ? 24 : 18) * resolution;
      return [
        [x, y],
        [x + far * Math.sin(turn), y + far * Math.cos(turn)],
      ];
    }),
  );
  const colour = chosen ? INK.tape : INK.ink;
  const zIndex = chosen ? 1000 : 2;
  return [
    new Style({ geometry: spokes, stroke: stroke(INK.paper, 5), zIndex }),
    new Style({ geometry: spokes, stroke: stroke(colour, 2.2), zIndex }),
    new Style({
      geometry: new Point([x, y]),
      image: new CircleStyle({
        declutterMode: 'obstacle',
        radius: chosen ? 11 : 8,
        fill: new Fill({ color: INK.paper }),
        stroke: new Stroke({ color: colour, width: 2.2 }),
      }),
      text: new Text({
        declutterMode: 'obstacle',
        text: String(feature.get('rank') ?? ''),
        font: `700 11px ${FONT}`,
        fill: new Fill({ color: colour }),
        offsetY: 1,
      }),
      zIndex: zIndex + 1,
    }),
  ];
};

/** A neck: a bar across the passage and a numbered flag; solid when firm, open when it does not hold. */
const necks: Painter = (feature, _resolution, context) => {
  const chosen = isChosen(feature, 'neck', context);
  const firm = feature.get('firm') === true;
  const across = acrossOf(feature);
  const rank = Number(feature.get('rank') ?? 0);
  const zIndex = chosen ? 1000 : 500 - rank;
  const styles: Style[] = [];
  if (across) {
    styles.push(
      new Style({ geometry: across, stroke: stroke(INK.paper, chosen ? 9 : 6), zIndex }),
      new Style({
        geometry: across,
        stroke: stroke(INK.tape, chosen ? 5.5 : 3.5, firm ? undefined : [5, 4]),
        zIndex,
      }),
    );
  }
  styles.push(
    new Style({
      geometry: new Point(placeOf(feature)),
      image: new CircleStyle({
        declutterMode: 'obstacle',
        radius: chosen ? 15 : 10.5,
        fill: new Fill({ color: firm || chosen ? INK.tape : INK.paper }),
        stroke: new Stroke({
          color: firm || chosen ? INK.paper : INK.tape,
          width: chosen ? 3 : 2,
          ...(firm || chosen ? {} : { lineDash: [3, 2.5] }),
        }),
      }),
      text: new Text({
        declutterMode: 'obstacle',
        text: String(rank),
        font: `700 ${chosen ? 16 : 12}px ${FONT}`,
        fill: new Fill({ color: firm || chosen ? INK.paper : INK.tape }),
        offsetY: 1,
      }),
      zIndex: zIndex + 1,
    }),
  );
  return styles;
};

const poolMarks: Painter = (feature, resolution, context) => {
  const chosen = isChosen(feature, 'pool', context);
  const area = feature.getGeometry()?.getType();
  const depth = Number(feature.get('depth') ?? 0);
  const style = new Style({
    stroke: stroke(chosen ? INK.tape : INK.cold, chosen ? 3 : 1.4),
    zIndex: chosen ? 10 : 1,
  });
  if (area !== 'Point') style.setFill(new Fill({ color: hatch('dots', INK.cold) }));
  const mark = new Style({
    geometry: new Point(placeOf(feature)),
    image: new CircleStyle({
      declutterMode: 'obstacle',
      radius: chosen ? 7 : 4.5,
      fill: new Fill({ color: chosen ? INK.tape : INK.cold }),
      stroke: halo(1.5),
    }),
  });
  if (resolution < 4 || chosen)
    mark.setText(
      label(`${formatLength(depth, context.units, 'height')} deep`, { colour: '#0a4d75', offsetY: 17 }),
    );
  return [style, mark];
};

/** The path of scent, with arrow heads so that its direction does not hang on colour. */
const carries: Painter = (feature, resolution) => {
  const geometry = feature.getGeometry();
  if (!(geometry instanceof LineString)) return undefined;
  const styles = [
    new Style({ stroke: stroke(INK.paper, 5) }),
    new Style({ stroke: stroke(INK.air, 2.4, [7, 5]) }),
  ];
  const length = geometry.getLength();
  const every = 90 * resolution;
  for (let along = Math.min(every / 2, length / 2); along < length; along += every) {
    const [x1, y1] = geometry.getCoordinateAt(Math.max(0, along - resolution * 4) / length) as [
      number,
      number,
    ];
    const [x2, y2] = geometry.getCoordinateAt(Math.min(length, along + resolution * 4) / length) as [
      number,
      number,
    ];
    styles.push(
      new Style({
        geometry: new Point([x2, y2]),
        image: new RegularShape({
          declutterMode: 'obstacle',
          points: 3,
          radius: 6.5,
          rotation: Math.atan2(x2 - x1, y2 - y1),
          rotateWithView: true,
          fill: new Fill({ color: INK.air }),
          stroke: halo(1.2),
        }),
      }),
    );
  }
  return styles;
};

const LEVEL_MARK: Record<string, { sign: string; colour: string; points: number }> = {
  low: { sign: '–', colour: INK.air, points: 30 },
  caution: { sign: '!', colour: '#8a5a00', points: 4 },
  high: { sign: '!!', colour: '#a32a00', points: 3 },
  unknown: { sign: '?', colour: INK.stone, points: 30 },
};

const stands: Painter = (feature, _resolution, context) => {
  const mark = LEVEL_MARK[String(feature.get('level'))] ?? LEVEL_MARK.unknown!;
  const chosen = isChosen(feature, 'stand', context);
  const name = (feature.get('subject') as { name?: string } | undefined)?.name;
  const at = new Point(placeOf(feature));
  const zIndex = chosen ? 10 : 1;
  const sign = new Style({
    geometry: at,
    image: new RegularShape({
      declutterMode: 'obstacle',
      points: mark.points,
      radius: (mark.points === 3 ? 17 : 13) + (chosen ? 4 : 0),
      angle: 0,
      fill: new Fill({ color: chosen ? INK.tape : mark.colour }),
      stroke: new Stroke({ color: INK.paper, width: 2 }),
    }),
    text: new Text({
      declutterMode: 'obstacle',
      text: mark.sign,
      font: `700 13px ${FONT}`,
      fill: new Fill({ color: INK.paper }),
      offsetY: mark.points === 3 ? 3 : 1,
    }),
    zIndex,
  });
  return name
    ? [sign, new Style({ geometry: at, text: label(name, { offsetY: chosen ? 33 : 27 }), zIndex })]
    : sign;
};

const boundary: Painter = () => [
  new Style({ stroke: stroke(INK.paper, 5) }),
  new Style({ stroke: stroke(INK.ink, 2.4, [14, 5, 3, 5]) }),
];

const features: Painter = (feature, resolution, { chosen }) =>
  featureStyle(feature, resolution, chosen?.type === 'feature' && chosen.id === String(feature.getId()));

export const PAINTERS: Record<MapLayer, Painter> = {
  asked,
  contours,
  drainage,
  channels,
  ridges,
  draws,
  saddles,
  benches,
  blocks,
  areas,
  corridors,
  bands: corridorBands,
  crossings,
  routes,
  junctions,
  necks,
  'pool-marks': poolMarks,
  carries,
  stands,
  features,
  boundary,
};

/** What a mark says when the pointer rests on it; null where the map says it already. */
export function markWords(layer: MarkLayer, feature: FeatureLike, units: Units): string | null {
  const number = (key: string) => Number(feature.get(key));
  switch (layer) {
    case 'necks':
      return `Neck ${feature.get('rank')}: ${formatShare(number('share'))} of travel, ${formatLength(number('width'), units)} across`;
    case 'crossings':
      return `Crossing, ${feature.get('kind')}: ${formatShare(number('share'))} of travel`;
    case 'junctions':
      return `Junction ${feature.get('rank')}: ${formatShare(number('share'))} of travel`;
    case 'stands':
      return (feature.get('subject') as { name?: string } | undefined)?.name ?? null;
    case 'pool-marks':
      return `Still cold air, ${formatLength(number('depth'), units, 'height')} deep`;
    case 'saddles':
      return 'Saddle';
    case 'benches':
      return 'Bench';
    case 'channels': {
      const sides = [feature.get('left'), feature.get('right')].filter((side) => typeof side === 'number');
      return sides.length === 0
        ? 'Channel, depth not stated'
        : `Channel, bed ${formatLength(Math.min(...(sides as number[])), units, 'height')} below its lower bank`;
    }
    case 'features':
    case 'boundary': {
      const kind = kindTitle(feature.get('kind') as FeatureKind);
      const proposed = feature.get('status') === 'proposed' ? 'proposed ' : '';
      const name = feature.get('name') as string | null;
      return name ? `${name} (${proposed}${kind.toLowerCase()})` : `${proposed ? 'Proposed ' : ''}${kind}`;
    }
    default:
      return null;
  }
}
