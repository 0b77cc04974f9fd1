import { zipSync } from 'fflate';
import type { Position } from 'geojson';
import { degrees, type FieldPlace, type FieldPlan, partsOf, xml } from './field-files.ts';

/** Colours of our own by kind, RRGGBB; what is proposed is drawn thinner and paler as well. */
const COLOURS: Record<string, string> = {
  boundary: '1c241f',
  road: '3c3c3c',
  railroad: '3c3c3c',
  creek: '0b5c9a',
  pond: '0b5c9a',
  fence: '5c4a3a',
  bedding: '4d3378',
  food: '7a5600',
  crop: '7a5600',
  opening: '7a5600',
  barricade: '8a2a0a',
  screen: '1b5c35',
  cut: '1b5c35',
  conifers: '1b5c35',
  powerline: '6f3a78',
};
const PLAIN = '1c241f';

/** KML 2.2 (OGC 07-147r2): a folder a kind, a style for each kind and standing. */
export function kmlOf(plan: FieldPlan): string {
  const kinds = [...new Set(plan.places.map(({ kind }) => kind))];
  const styles = kinds.flatMap((kind) =>
    (['existing', 'proposed'] as const).map((status) => style(kind, status)),
  );
  const folders = kinds.map(
    (kind) =>
      `<Folder><name>${xml(kind)}</name>${plan.places
        .filter((place) => place.kind === kind)
        .map(placemark)
        .join('')}</Folder>`,
  );
  const stops = plan.stops.map(
    ({ name, about, at }) =>
      `<Placemark><name>${xml(name)}</name><description>${xml(about)}</description><Point>${coordinates([at])}</Point></Placemark>`,
  );
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<kml xmlns="http://www.opengis.net/kml/2.2"><Document>',
    `<name>${xml(plan.title)}</name><description>${xml(plan.note)}</description>`,
    ...styles,
    ...folders,
    ...(stops.length > 0 ? [`<Folder><name>walk list</name>${stops.join('')}</Folder>`] : []),
    '</Document></kml>',
    '',
  ].join('\n');
}

/** The same packed: a zip whose first entry is doc.kml. */
export const kmzOf = (plan: FieldPlan, made: Date): Uint8Array =>
  zipSync({ 'doc.kml': [new TextEncoder().encode(kmlOf(plan)), { mtime: made }] });

const idOf = (kind: string, status: string): string => `${kind}-${status}`;

/** KML writes a colour as opacity, blue, green, red. */
function style(kind: string, status: FieldPlace['status']): string {
  const [red, green, blue] = (COLOURS[kind] ?? PLAIN).match(/../g)!;
  const bgr = `${blue}${green}${red}`;
  const [opacity, width] = status === 'proposed' ? ['b0', 2.5] : ['ff', 3.5];
  return `<Style id="${idOf(kind, status)}"><LineStyle><color>${opacity}${bgr}</color><width>${width}</width></LineStyle><PolyStyle><color>40${bgr}</color></PolyStyle></Style>`;
}

const coordinates = (path: readonly Position[]): string =>
  `<coordinates>${path.map(([longitude, latitude]) => `${degrees(longitude!)},${degrees(latitude!)}`).join(' ')}</coordinates>`;

function placemark({ name, kind, status, about, geometry }: FieldPlace): string {
  const { points, paths, areas } = partsOf(geometry);
  const shapes = [
    ...points.map((at) => `<Point>${coordinates([at])}</Point>`),
    ...paths.map((path) => `<LineString>${coordinates(path)}</LineString>`),
    ...areas.map(
      ([outer = [], ...holes]) =>
        `<Polygon><outerBoundaryIs><LinearRing>${coordinates(outer)}</LinearRing></outerBoundaryIs>${holes.map((hole) => `<innerBoundaryIs><LinearRing>${coordinates(hole)}</LinearRing></innerBoundaryIs>`).join('')}</Polygon>`,
    ),
  ];
  const shape = shapes.length === 1 ? shapes[0]! : `<MultiGeometry>${shapes.join('')}</MultiGeometry>`;
  return `<Placemark><name>${xml(name)}</name><description>${xml(about)}</description><styleUrl>#${idOf(kind, status)}</styleUrl><ExtendedData><Data name="kind"><value>${xml(kind)}</value></Data><Data name="status"><value>${status}</value></Data></ExtendedData>${shape}</Placemark>`;
}
