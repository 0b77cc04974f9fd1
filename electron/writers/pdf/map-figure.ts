import type { Artifacts } from '../../../core/analysis/artifacts.ts';
import type { ReportMap, ReportModel } from '../../../core/analysis/report.ts';
import type { Units } from '../../../core/features/units.ts';
import { TABLES, TILE_LAYERS } from '../../service/contract.ts';
import { legendOf, type TileLayer } from '../layers.ts';
import { inPattern, type Pattern } from '../palette.ts';
import { encodeImage } from '../png.ts';
import { parseColour } from '../ramp.ts';
import { georegister } from './georegister.ts';
import { drawGrid, drawNorth, drawScaleBar, drawTicks, scaleInWords } from './map-furniture.ts';
import { drawLines, type MapKey } from './map-lines.ts';
import { drawFocus, drawMarks } from './map-marks.ts';
import { type Detail, type MapView, paintView, viewOf } from './map-view.ts';
import { columnOf, INK, MARGIN, type Paper, sayable } from './paper.ts';
import { type TypeSizes, USUAL } from './type-sizes.ts';

/** Heights of the picture, points: a page the map belongs to, and one that is mostly words. */
const HEIGHT = { tall: 290, low: 190 } as const;
/** Room for the northings left of the picture. */
const LEFT = 10;

export interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

type MapReport = Pick<ReportModel, 'units' | 'lineNote'>;

/** Where a picture of some height stands under the pen. */
export const figureBox = (paper: Paper, height: number): Box => ({
  x: MARGIN + LEFT,
  y: paper.y,
  width: columnOf(paper) - LEFT,
  height,
});

/** The page's map: picture, lines, scale, north, coordinates, and under it what they mean. */
export function drawMap(
  paper: Paper,
  section: PDFKit.PDFStructureElement,
  page: { title: string; map: ReportMap },
  artifacts: Artifacts,
  report: MapReport,
  box: Box = figureBox(paper, HEIGHT[page.map.low ? 'low' : 'tall']),
  sheet: { magnified: number; detail?: Detail; over?(view: MapView): void } = { magnified: 1 },
  type: TypeSizes = USUAL,
): void {
  const { map } = page;
  const { units, lineNote } = report;
  const layers = TILE_LAYERS.filter((layer) => map.grids.includes(layer)).sort(
    (a, b) => map.grids.indexOf(a) - map.grids.indexOf(b),
  );
  const tables = TABLES.filter((table) => map.lines.includes(table));
  const view = viewOf(artifacts, box, map.region);
  const { epsg, convergence } = artifacts.elevation.frame;
  const alt = `Map of ${[...layers, ...tables].join(', ').replaceAll('-', ' ')}. ${scaleInWords(view, units, sheet.magnified)}.`;
  section.add(
    paper.struct('Figure', { alt }, () => {
      const { width, height, rgb } = paintView(view, layers, artifacts, sheet.detail);
      const png = encodeImage({ width, height, channels: 3, data: rgb });
      paper.image(Buffer.from(png), view.x, view.y, { width: view.width, height: view.height });
      paper.save();
      paper.rect(view.x, view.y, view.width, view.height).clip();
      drawGrid(paper, view);
      drawFocus(paper, view, map, artifacts);
      const keys = [...drawLines(paper, view, tables, artifacts, units), ...drawMarks(paper, view, map)];
      sheet.over?.(view);
      drawScaleBar(paper, view, units);
      drawNorth(paper, view, convergence);
      paper.restore();
      paper.rect(view.x, view.y, view.width, view.height).lineWidth(0.8).stroke(INK.text);
      drawTicks(paper, view);
      paper.y = view.y + view.height + 15;
      for (const layer of layers) drawLegend(paper, layer, artifacts, units, type);
      drawKeys(paper, keys, type);
      paper.font('text').fontSize(7).fillColor(INK.quiet);
      const hasLine = artifacts.features.some(({ kind }) => kind === 'boundary');
      const note = lineNote && hasLine ? ` ${lineNote}.` : '';
      paper.text(
        sayable(`${scaleInWords(view, units, sheet.magnified)}. Grid in metres, EPSG ${epsg}.${note}`),
        MARGIN,
        paper.y + 1,
        { width: columnOf(paper) },
      );
    }),
  );
  georegister(paper, view, epsg, page.title, sheet.magnified);
  paper.x = MARGIN;
  paper.y += 8;
}

/** Swatches of a layer in a row, broken where the row is full. */
function drawLegend(
  paper: Paper,
  layer: TileLayer,
  artifacts: Artifacts,
  units: Units,
  type: TypeSizes,
): void {
  const legend = legendOf(layer, artifacts, units);
  if (legend.entries.length === 0) return;
  const title = legend.unit ? `${legend.title}, ${legend.unit}` : legend.title;
  const keys: MapKey[] = legend.entries.map(({ label, colour, pattern }) => ({
    label,
    draw: (sheet, x, y) => swatch(sheet, x, y, colour, (pattern as Pattern | undefined) ?? 'plain'),
  }));
  paper.font('strong').fontSize(7.5).fillColor(INK.text);
  paper.text(sayable(title), MARGIN, paper.y, { lineBreak: false });
  paper.y += 10;
  drawKeys(paper, keys, type);
}

function drawKeys(paper: Paper, keys: readonly MapKey[], { key: pitch }: TypeSizes): void {
  if (keys.length === 0) return;
  let x: number = MARGIN;
  let y = paper.y + 6;
  for (const key of keys) {
    paper.font('text').fontSize(7.5);
    const label = sayable(key.label);
    const width = 24 + paper.widthOfString(label) + 12;
    if (x + width > MARGIN + columnOf(paper) && x > MARGIN) {
      x = MARGIN;
      y += pitch;
    }
    key.draw(paper, x, y);
    paper.font('text').fontSize(7.5).fillColor(INK.text);
    paper.text(label, x + 24, y - 4.5, { lineBreak: false });
    x += width;
  }
  paper.x = MARGIN;
  paper.y = y + 10;
}

/** A patch of a class as the map shows it, pattern and all. */
function swatch(paper: Paper, x: number, y: number, colour: string, pattern: Pattern): void {
  const [width, height] = [40, 18];
  const [r, g, b] = parseColour(colour);
  const shift = r * 0.3 + g * 0.59 + b * 0.11 > 110 ? -46 : 58;
  const data = new Uint8Array(width * height * 3);
  for (let pixel = 0; pixel < width * height; pixel++) {
    const dark = inPattern(pattern, pixel % width, Math.floor(pixel / width)) ? shift : 0;
    for (const [channel, value] of [r, g, b].entries()) {
      data[pixel * 3 + channel] = Math.max(0, Math.min(255, value + dark));
    }
  }
  const png = encodeImage({ width, height, channels: 3, data });
  paper.image(Buffer.from(png), x, y - 4.5, { width: 20, height: 9 });
  paper
    .rect(x, y - 4.5, 20, 9)
    .lineWidth(0.4)
    .stroke(INK.quiet);
}
