import type { Artifacts } from '../../../core/analysis/artifacts.ts';
import type { ReportMap, ReportModel } from '../../../core/analysis/report.ts';
import type { Feature } from '../../../core/features/feature.ts';
import { withoutLog } from '../../../core/features/feature.ts';
import { along, lengthOf } from '../../../core/features/measure.ts';
import { middleOf, pathsOf } from '../../../core/features/shapes.ts';
import { drawMap } from './map-figure.ts';
import { type MapView, regionOf, toSheet } from './map-view.ts';
import { columnOf, finish, INK, MARGIN, openPaper, type Paper, sayable } from './paper.ts';

/** 24 by 36 inches (Arch D), points. */
const SHORT = 1728;
const LONG = 2592;
/** Everything on the sheet is drawn for half its size and magnified: read from a step away, not from a lap. */
const MAGNIFIED = 2;
/** Room under the picture for its legend, and above it for the title, points before magnifying. */
const FOOT = 200;
const HEAD = 84;
const LEFT = 10;
/** Height of the letters of names on the map, points before magnifying. */
const NAME = 7;
/** No finer than this: 150 an inch of so large a picture would take more memory than it shows. */
const DETAIL = { pixels: (110 / 72) * MAGNIFIED, perCell: 2 };

const MAP: ReportMap = {
  grids: ['shade', 'passage'],
  lines: ['contours', 'drainage', 'features', 'corridors', 'crossings', 'necks'],
};

/**
 * One map of the whole property for the wall or the hood of a truck, 24 by 36 inches, upright or on its side as the
 * ground lies; registered on the earth, tagged and lettered as the report is.
 */
export async function encodeSheet(report: ReportModel, artifacts: Artifacts): Promise<Uint8Array> {
  const { name, invented } = report.property;
  const title = `${name}${invented && !/invented/i.test(name) ? ' (invented example)' : ''}: map sheet`;
  const [west, south, east, north] = regionOf(artifacts, artifacts.elevation.frame);
  const size: [number, number] = east - west > north - south ? [LONG, SHORT] : [SHORT, LONG];
  const paper = openPaper(
    { title: sayable(title), author: sayable(report.consultant), made: new Date(report.made) },
    size,
  );
  paper.addPage();
  paper.scale(MAGNIFIED);
  paper.page.width = size[0] / MAGNIFIED;
  paper.page.height = size[1] / MAGNIFIED;
  const document = paper.struct('Document');
  paper.addStructure(document);
  paper.font('strong').fontSize(24).fillColor(INK.text);
  document.add(
    paper.struct('H1', {}, () => {
      paper.text(sayable(title), MARGIN, 40, { width: columnOf(paper) });
    }),
  );
  paper.font('text').fontSize(10).fillColor(INK.text);
  document.add(
    paper.struct('P', {}, () => {
      paper.text(sayable(aboutSheet(report)), MARGIN, paper.y + 2, { width: columnOf(paper) });
    }),
  );
  const top = Math.max(HEAD + MARGIN / 2, paper.y + 8);
  const box = {
    x: MARGIN + LEFT,
    y: top,
    width: columnOf(paper) - LEFT,
    height: paper.page.height - top - FOOT,
  };
  drawMap(paper, document, { title, map: MAP }, artifacts, report, box, {
    magnified: MAGNIFIED,
    detail: DETAIL,
    over: (view) => drawNames(paper, view, artifacts.features),
  });
  document.end();
  return finish(paper);
}

const aboutSheet = ({ client, consultant, made, property }: ReportModel): string =>
  [
    property.invented ? 'INVENTED EXAMPLE.' : null,
    client ? `For ${client}.` : null,
    consultant ? `By ${consultant}.` : null,
    `Made ${made.slice(0, 10)} with Hollowgate.`,
    'Desk work: walk the ground before anything is cut, built or hunted. Nothing on this map says that a shot is safe. Local law comes first.',
  ]
    .filter(Boolean)
    .join(' ');

/** Names of what is drawn on the ground beside it; one that would lie over another is left out. */
function drawNames(paper: Paper, view: MapView, features: readonly Feature[]): void {
  const taken: [number, number, number, number][] = [];
  paper.font('strong').fontSize(NAME);
  for (const { name, kind, geometry } of withoutLog(features)) {
    if (!name || kind === 'boundary' || kind === 'sighting') continue;
    const [path] = pathsOf(geometry);
    const isLine = /LineString$/.test(geometry.type);
    const at = isLine && path ? along(path, lengthOf(geometry) / 2) : middleOf(geometry);
    if (!at) continue;
    const words = sayable(name);
    const wide = paper.widthOfString(words) + 4;
    const [x, y] = toSheet(view, at);
    // A point's sign stays free; a line's name stands beside the line.
    const left = x - wide / 2;
    const top = /Polygon$/.test(geometry.type) ? y - NAME / 2 : y + NAME;
    const box: [number, number, number, number] = [left, top, left + wide, top + NAME + 3];
    const inside =
      box[0] > view.x && box[1] > view.y && box[2] < view.x + view.width && box[3] < view.y + view.height;
    const free = taken.every((b) => box[2] < b[0] || b[2] < box[0] || box[3] < b[1] || b[3] < box[1]);
    if (!inside || !free) continue;
    taken.push(box);
    paper
      .rect(left, top, wide, NAME + 3)
      .fillOpacity(0.72)
      .fill('#ffffff')
      .fillOpacity(1);
    paper.fillColor(INK.text).text(words, left + 2, top + 1, { lineBreak: false });
  }
}
