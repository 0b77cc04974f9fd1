import { crsDefinition, transform, WGS84 } from '../../readers/crs.ts';
import { crsWkt } from '../../store/crs-wkt.ts';
import type { MapView } from './map-view.ts';
import type { Paper } from './paper.ts';

/**
 * Tells a reader where on the earth a figure lies: a viewport with a geospatial measure (ISO 32000-2, 8.8 and 12.10),
 * so that a phone that opens the page shows where its bearer stands.
 *
 * @param epsg the frame's CRS
 * @param name what the viewport is called
 * @param magnified points of the page to one that is drawn with
 */
export function georegister(paper: Paper, view: MapView, epsg: number, name: string, magnified = 1): void {
  const toDegrees = transform(crsDefinition(epsg), WGS84);
  const east = view.west + view.width * view.scale;
  const south = view.north - view.height * view.scale;
  // Corners of the unit square of the figure, from its lower left on clockwise, and where they lie.
  const corners: [number, number][] = [
    [view.west, south],
    [view.west, view.north],
    [east, view.north],
    [east, south],
  ];
  const degrees = corners.flatMap(([x, y]) => {
    const [longitude, latitude] = toDegrees(x, y);
    return [latitude, longitude];
  });
  const square = [0, 0, 0, 1, 1, 1, 1, 0];
  // Literal strings are String objects to pdfkit; plain ones become names.
  const literal = (text: string): unknown => Object(text);
  // The types ask for a stream's bytes at the end; these objects have none.
  const written = (content: object): unknown => {
    const object = paper.ref(content) as unknown as { end(): void };
    object.end();
    return object;
  };
  const system = written({ Type: 'PROJCS', EPSG: epsg, WKT: literal(crsWkt(epsg)) });
  const measure = written({
    Type: 'Measure',
    Subtype: 'GEO',
    Bounds: square,
    GPTS: degrees,
    LPTS: square,
    GCS: system,
  });
  const { height } = paper.page;
  const viewport = {
    Type: 'Viewport',
    Name: literal(name),
    // In the page's own space, which counts from below.
    BBox: [view.x, height - view.y - view.height, view.x + view.width, height - view.y].map(
      (side) => side * magnified,
    ),
    Measure: measure,
  };
  const { data } = paper.page.dictionary as unknown as { data: Record<string, unknown[] | undefined> };
  data.VP = [...(data.VP ?? []), viewport];
}
