import type { Geometry, Position, Feature as Row } from 'geojson';
import type { Artifacts } from '../../../core/analysis/artifacts.ts';
import { formatLength, type Units } from '../../../core/features/units.ts';
import { boundsOf } from '../bounds.ts';
import { type TableName, tableFeatures } from '../tables.ts';
import { thinned } from './map-thinning.ts';
import { type MapView, toSheet } from './map-view.ts';
import type { Paper } from './paper.ts';

/** Lines and marks over a figure. Pattern, shape, letter or number says what colour says. */

interface LineStyle {
  colour: string;
  width: number;
  dash?: [number, number];
  /** White under the line, so that it stands off the picture. */
  casing?: number;
}

/** A sample for the legend: a line, or a mark drawn about a spot. */
export interface MapKey {
  label: string;
  draw(paper: Paper, x: number, y: number): void;
}

const TAPE = '#a3114f';
const WATER = '#0b5c9a';
const GROUND = '#74502f';
const CORRIDOR = '#c8570a';
const AIR = '#0c6068';
const DARK = '#1c241f';

const BOUNDARY: LineStyle = { colour: DARK, width: 1.8, dash: [7, 2.5], casing: 2 };

const FEATURE_LINES: Record<string, { label: string; style: LineStyle }> = {
  boundary: { label: 'Property line', style: BOUNDARY },
  road: { label: 'Road', style: { colour: '#3c3c3c', width: 1.5, casing: 1.6 } },
  railroad: { label: 'Railroad', style: { colour: '#3c3c3c', width: 2.2, dash: [1.4, 2.4], casing: 1 } },
  creek: { label: 'Creek', style: { colour: WATER, width: 1.5 } },
  pond: { label: 'Pond', style: { colour: WATER, width: 1 } },
  fence: { label: 'Fence', style: { colour: '#5b635e', width: 0.8, dash: [3, 1.5] } },
  trail: { label: 'Trail', style: { colour: '#5b635e', width: 0.8, dash: [1, 2] } },
  powerline: { label: 'Power line', style: { colour: '#6f3a78', width: 0.9, dash: [8, 2] } },
  bedding: { label: 'Bedding', style: { colour: '#4d3378', width: 1, dash: [2, 2] } },
  food: { label: 'Food', style: { colour: '#7a5600', width: 1, dash: [5, 2] } },
  crop: { label: 'Crop field', style: { colour: '#7a5600', width: 0.8 } },
  barricade: { label: 'Barricade', style: { colour: '#8a2a0a', width: 2, dash: [1, 1.5] } },
};

const LEVELS: Record<string, string> = { low: '-', caution: '!', high: '!!', unknown: '?' };

const CROSSING_LETTERS: Record<string, string> = {
  road: 'R',
  railroad: 'T',
  creek: 'C',
  fence: 'F',
  barricade: 'B',
  'ownership line': 'L',
};

type Painter = (paper: Paper, view: MapView, rows: Row[], units: Units) => MapKey[];

const lineKey = (label: string, style: LineStyle): MapKey => ({
  label,
  draw(paper, x, y) {
    strokePath(
      paper,
      [
        [x, y],
        [x + 20, y],
      ],
      style,
    );
  },
});

const lines =
  (label: string, style: (row: Row) => LineStyle): Painter =>
  (paper, view, rows) => {
    for (const row of rows)
      for (const path of pathsOf(row.geometry)) strokePath(paper, onSheet(view, path), style(row));
    return rows.length > 0 ? [lineKey(label, style(rows[Math.floor(rows.length / 2)]!))] : [];
  };

const PAINTERS: Partial<Record<TableName, Painter>> = {
  contours: (paper, view, rows, units) => {
    for (const row of rows) {
      const style: LineStyle = { colour: GROUND, width: row.properties?.index ? 0.8 : 0.35 };
      for (const path of pathsOf(row.geometry)) strokePath(paper, onSheet(view, path), style);
    }
    for (const row of rows.filter(({ properties }) => properties?.index)) {
      labelAlong(paper, view, row, formatLength(Number(row.properties?.elevation), units, 'height'));
    }
    return rows.length > 0 ? [lineKey('Contour', { colour: GROUND, width: 0.6 })] : [];
  },
  drainage: lines('Drainage line', (row) => ({
    colour: WATER,
    width: 0.5 + 0.4 * Number(row.properties?.order ?? 1),
  })),
  ridges: lines('Ridge line', () => ({ colour: '#54391b', width: 1.1, dash: [6, 2] })),
  draws: lines('Draw', () => ({ colour: AIR, width: 1, dash: [1.2, 2.6] })),
  benches: lines('Bench', () => ({ colour: '#7d6200', width: 1.1 })),
  blocks: lines('Cover block', () => ({ colour: '#1b5c35', width: 1, dash: [5, 2] })),
  corridors: lines('Corridor, wider where more travel', (row) => ({
    colour: CORRIDOR,
    width: 0.9 + 5 * Math.min(1, Number(row.properties?.share ?? 0)),
    casing: 1.2,
  })),
  carries: (paper, view, rows) => {
    const style: LineStyle = { colour: AIR, width: 1.3, dash: [4, 2.5], casing: 1.5 };
    for (const row of rows) {
      for (const path of pathsOf(row.geometry)) {
        const points = onSheet(view, path);
        strokePath(paper, points, style);
        arrowHead(paper, points, AIR);
      }
    }
    return rows.length > 0 ? [lineKey('Way of scent in the night drainage', style)] : [];
  },
  saddles: (paper, view, rows) => {
    const draw = (x: number, y: number): void => {
      star(paper, x, y, 4.2);
    };
    for (const row of rows) draw(...toSheet(view, spotOf(row)));
    return rows.length > 0 ? [{ label: 'Saddle', draw: (_paper, x, y) => draw(x + 10, y) }] : [];
  },
  areas: (paper, view, rows) => {
    for (const row of rows) {
      const [x, y] = toSheet(view, spotOf(row));
      disc(paper, x, y, 2.6, '#ffffff', '#1b5c35', 1.2);
      label(paper, String(row.properties?.name ?? ''), x, y + 4.5);
    }
    return rows.length > 0
      ? [
          {
            label: 'End of travel',
            draw: (sheet, x, y) => disc(sheet, x + 10, y, 2.6, '#ffffff', '#1b5c35', 1.2),
          },
        ]
      : [];
  },
  pools: (paper, view, rows) => {
    const draw = (sheet: Paper, x: number, y: number): void =>
      disc(sheet, x, y, 3, '#1c4f8f', '#ffffff', 0.8);
    for (const row of rows) draw(paper, ...toSheet(view, spotOf(row)));
    return rows.length > 0
      ? [{ label: 'Pool of cold air', draw: (sheet, x, y) => draw(sheet, x + 10, y) }]
      : [];
  },
  crossings: (paper, view, rows) => {
    for (const row of rows) {
      const [x, y] = toSheet(view, spotOf(row));
      diamond(paper, x, y, CROSSING_LETTERS[String(row.properties?.kind)] ?? '?');
    }
    const kinds = [...new Set(rows.map((row) => String(row.properties?.kind)))];
    return kinds.map((kind) => ({
      label: `Crossing: ${kind}`,
      draw: (sheet, x, y) => diamond(sheet, x + 10, y, CROSSING_LETTERS[kind] ?? '?'),
    }));
  },
  necks: (paper, view, rows) => {
    // The first rank is drawn last, on top.
    for (const row of [...rows].reverse()) {
      const firm = row.properties?.firm === true;
      for (const path of pathsOf(row.geometry)) {
        strokePath(paper, onSheet(view, path), {
          colour: TAPE,
          width: 2.4,
          casing: 1.6,
          ...(firm ? {} : { dash: [2, 1.6] }),
        });
      }
    }
    for (const row of [...rows].reverse()) {
      const [x, y] = toSheet(view, spotOf(row));
      flag(paper, x, y, String(row.properties?.rank ?? ''), row.properties?.firm === true);
    }
    if (rows.length === 0) return [];
    return [
      {
        label: 'Neck by rank, firm',
        draw: (sheet: Paper, x: number, y: number) => flag(sheet, x + 10, y, '1', true),
      },
      {
        label: 'Neck that an assumption moves',
        draw: (sheet: Paper, x: number, y: number) => flag(sheet, x + 10, y, '1', false),
      },
    ].filter((_, index) => rows.some((row) => (row.properties?.firm === true) === (index === 0)));
  },
  'stand-risks': (paper, view, rows) => {
    for (const row of rows) {
      const [x, y] = toSheet(view, spotOf(row));
      shield(paper, x, y, LEVELS[String(row.properties?.level)] ?? '?');
      label(paper, String((row.properties?.subject as { name?: string } | undefined)?.name ?? ''), x, y + 7);
    }
    const levels = [...new Set(rows.map((row) => String(row.properties?.level)))];
    return levels.map((level) => ({
      label: `Stand risk: ${level}`,
      draw: (sheet, x, y) => shield(sheet, x + 10, y, LEVELS[level] ?? '?'),
    }));
  },
  features: (paper, view, rows) => {
    const seen = new Map<string, MapKey>();
    for (const row of rows) {
      const kind = String(row.properties?.kind);
      const known = FEATURE_LINES[kind];
      if (known) {
        const style =
          row.properties?.status === 'proposed'
            ? { ...known.style, dash: [2, 3] as [number, number] }
            : known.style;
        for (const path of pathsOf(row.geometry)) strokePath(paper, onSheet(view, path), style);
        seen.set(kind, lineKey(known.label, known.style));
      } else if (kind === 'stand' || kind === 'gap' || kind === 'building') {
        const [x, y] = toSheet(view, spotOf(row));
        square(paper, x, y, kind === 'stand' ? 'S' : kind === 'gap' ? 'G' : 'H');
        seen.set(kind, {
          label: kind === 'stand' ? 'Stand' : kind === 'gap' ? 'Gap: gate, underpass, ford' : 'Building',
          draw: (sheet, left, middle) =>
            square(sheet, left + 10, middle, kind === 'stand' ? 'S' : kind === 'gap' ? 'G' : 'H'),
        });
      }
    }
    return [...seen.values()];
  },
};

/** Order of drawing, whatever order a page names them in. */
const ORDER: TableName[] = [
  'contours',
  'blocks',
  'benches',
  'drainage',
  'ridges',
  'draws',
  'features',
  'corridors',
  'carries',
  'pools',
  'areas',
  'saddles',
  'crossings',
  'stand-risks',
  'necks',
];

/** Draws the tables named and always the property line; answers with what the legend must explain. */
export function drawLines(
  paper: Paper,
  view: MapView,
  tables: readonly TableName[],
  artifacts: Artifacts,
  units: Units,
): MapKey[] {
  const keys: MapKey[] = [];
  for (const table of ORDER) {
    const named = tables.includes(table);
    if (!named && table !== 'features') continue;
    const found = tableFeatures(table, artifacts).features.filter(
      (row) =>
        (named || row.properties?.kind === 'boundary') &&
        // A judged stand has a mark of its own.
        !(table === 'features' && row.properties?.kind === 'stand' && tables.includes('stand-risks')) &&
        meets(view, row.geometry),
    );
    const { rows, note } = thinned(table, found, view.scale);
    const drawn = PAINTERS[table]?.(paper, view, rows, units) ?? [];
    keys.push(...drawn.map((key) => ({ ...key, label: key.label + note })));
  }
  return keys;
}

/** Whether a shape's box reaches into the figure; what does not is neither drawn nor explained. */
function meets(view: MapView, geometry: Geometry): boolean {
  const [west, south, east, north] = boundsOf(geometry);
  return (
    west <= view.west + view.width * view.scale &&
    east >= view.west &&
    north >= view.north - view.height * view.scale &&
    south <= view.north
  );
}

function pathsOf(geometry: Geometry): Position[][] {
  switch (geometry.type) {
    case 'LineString':
      return [geometry.coordinates];
    case 'MultiLineString':
    case 'Polygon':
      return geometry.coordinates;
    case 'MultiPolygon':
      return geometry.coordinates.flat();
    case 'GeometryCollection':
      return geometry.geometries.flatMap(pathsOf);
    default:
      return [];
  }
}

/** The spot a row stands for: its own `at`, or its shape's first corner. */
function spotOf(row: Row): Position {
  const at: unknown = row.properties?.at;
  if (Array.isArray(at)) return at as Position;
  let nested: unknown = row.geometry.type === 'GeometryCollection' ? [0, 0] : row.geometry.coordinates;
  while (Array.isArray(nested) && Array.isArray(nested[0])) nested = nested[0];
  return nested as Position;
}

/** On the sheet, without corners closer than the pen is wide. */
function onSheet(view: MapView, path: readonly Position[]): [number, number][] {
  const points: [number, number][] = [];
  for (const [index, position] of path.entries()) {
    const point = toSheet(view, position);
    const last = points.at(-1);
    const near = last && Math.abs(last[0] - point[0]) + Math.abs(last[1] - point[1]) < 0.35;
    if (!near || index === path.length - 1) points.push(point);
  }
  return points;
}

function strokePath(paper: Paper, points: readonly (readonly [number, number])[], style: LineStyle): void {
  if (points.length < 2) return;
  const trace = (): void => {
    paper.moveTo(...points[0]!);
    for (const point of points.slice(1)) paper.lineTo(...point);
  };
  paper.lineJoin('round').lineCap(style.dash ? 'butt' : 'round');
  if (style.casing) {
    trace();
    paper
      .undash()
      .lineWidth(style.width + style.casing)
      .stroke('#ffffff');
  }
  trace();
  if (style.dash) paper.dash(style.dash[0], { space: style.dash[1] });
  paper.lineWidth(style.width).stroke(style.colour);
  paper.undash();
}

function disc(
  paper: Paper,
  x: number,
  y: number,
  radius: number,
  fill: string,
  edge: string,
  width: number,
): void {
  paper.circle(x, y, radius).lineWidth(width).fillAndStroke(fill, edge);
}

function centred(paper: Paper, text: string, x: number, y: number, size: number, colour: string): void {
  paper.font('strong').fontSize(size).fillColor(colour);
  const width = paper.widthOfString(text);
  paper.text(text, x - width / 2, y - size * 0.62, { lineBreak: false });
}

function flag(paper: Paper, x: number, y: number, text: string, firm: boolean): void {
  disc(paper, x, y, 6.6, firm ? TAPE : '#ffffff', firm ? '#ffffff' : TAPE, 1.1);
  centred(paper, text, x, y, 8, firm ? '#ffffff' : TAPE);
}

function diamond(paper: Paper, x: number, y: number, text: string): void {
  paper
    .polygon([x, y - 6], [x + 6, y], [x, y + 6], [x - 6, y])
    .lineWidth(0.9)
    .fillAndStroke('#ffffff', DARK);
  centred(paper, text, x, y, 6.5, DARK);
}

function square(paper: Paper, x: number, y: number, text: string): void {
  paper
    .rect(x - 4.5, y - 4.5, 9, 9)
    .lineWidth(0.9)
    .fillAndStroke('#ffffff', DARK);
  centred(paper, text, x, y, 7, DARK);
}

function shield(paper: Paper, x: number, y: number, text: string): void {
  paper
    .polygon([x, y - 8], [x + 7.5, y + 5.5], [x - 7.5, y + 5.5])
    .lineWidth(1)
    .fillAndStroke('#8a2a0a', '#ffffff');
  centred(paper, text, x, y + 1.2, 8, '#ffffff');
}

function star(paper: Paper, x: number, y: number, radius: number): void {
  const corners: [number, number][] = Array.from({ length: 8 }, (_, index) => {
    const reach = index % 2 === 0 ? radius : radius * 0.42;
    const angle = (index * Math.PI) / 4;
    return [x + reach * Math.cos(angle), y + reach * Math.sin(angle)];
  });
  paper
    .polygon(...corners)
    .lineWidth(0.5)
    .fillAndStroke('#54391b', '#ffffff');
}

function label(paper: Paper, text: string, x: number, y: number): void {
  if (text === '') return;
  paper.font('strong').fontSize(7);
  const width = paper.widthOfString(text);
  paper
    .rect(x - width / 2 - 1.5, y - 0.5, width + 3, 8.5)
    .fillOpacity(0.75)
    .fill('#ffffff')
    .fillOpacity(1);
  paper.fillColor(DARK).text(text, x - width / 2, y, { lineBreak: false });
}

/** Writes along the middle of a row's longest stretch within the figure, where there is room for it. */
function labelAlong(paper: Paper, view: MapView, row: Row, text: string): void {
  paper.font('strong').fontSize(6);
  const width = paper.widthOfString(text);
  let best: [number, number][] = [];
  for (const path of pathsOf(row.geometry)) {
    let run: [number, number][] = [];
    for (const [x, y] of onSheet(view, path)) {
      const inside =
        x > view.x + 20 && x < view.x + view.width - 20 && y > view.y + 12 && y < view.y + view.height - 12;
      if (inside) run.push([x, y]);
      if (run.length > best.length) best = run;
      if (!inside) run = [];
    }
  }
  const middle = Math.floor(best.length / 2);
  const here = best[middle];
  const before = best
    .slice(0, middle)
    .findLast((point) => here && Math.hypot(here[0] - point[0], here[1] - point[1]) > width / 2);
  if (!here || !before || best.length < 12) return;
  let angle = (Math.atan2(here[1] - before[1], here[0] - before[0]) * 180) / Math.PI;
  if (angle > 90) angle -= 180;
  if (angle < -90) angle += 180;
  paper.save().rotate(angle, { origin: here });
  paper
    .rect(here[0] - width / 2 - 1, here[1] - 3.4, width + 2, 6.8)
    .fillOpacity(0.7)
    .fill('#ffffff')
    .fillOpacity(1);
  paper.fillColor(GROUND).text(text, here[0] - width / 2, here[1] - 3.8, { lineBreak: false });
  paper.restore();
}

function arrowHead(paper: Paper, points: readonly [number, number][], colour: string): void {
  const tip = points.at(-1);
  const back = points.findLast(([x, y]) => tip && Math.hypot(x - tip[0], y - tip[1]) > 5);
  if (!tip || !back) return;
  const angle = Math.atan2(tip[1] - back[1], tip[0] - back[0]);
  const side = (turn: number): [number, number] => [
    tip[0] + 6 * Math.cos(angle + turn),
    tip[1] + 6 * Math.sin(angle + turn),
  ];
  paper
    .polygon(tip, side(Math.PI - 0.45), side(Math.PI + 0.45))
    .lineWidth(0.5)
    .fillAndStroke(colour, '#ffffff');
}
