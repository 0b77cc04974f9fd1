/**
 * Which elements may stand where in the files for phones, as the published schemas have it. The schemas themselves are
 * not in the project, since no copy with leave to pass it on was at hand; these tables say the same of the elements
 * that plans are made of. An element that is in none of them is a fault.
 *
 * - GPX 1.1: Topografix, https://www.topografix.com/GPX/1/1/gpx.xsd, compared with it line by line
 * - KML 2.2: OGC 07-147r2, http://schemas.opengis.net/kml/2.2.0/ogckml22.xsd, value from memory
 */

/** A place in a sequence: the elements that may stand there, how often at least and at most. */
export interface Slot {
  names: readonly string[];
  least: number;
  most: number;
}

export interface ElementRule {
  /** In the order they must stand; none for elements that hold text. */
  children: readonly Slot[];
  /** What an element that holds text may hold. */
  text?: (text: string) => boolean;
  attributes?: Readonly<Record<string, { required: boolean; fits(text: string): boolean }>>;
}

export interface Structure {
  namespace: string;
  root: string;
  elements: Readonly<Record<string, ElementRule>>;
}

const maybe = (...names: string[]): Slot => ({ names, least: 0, most: 1 });
const many = (...names: string[]): Slot => ({ names, least: 0, most: Number.POSITIVE_INFINITY });
const once = (...names: string[]): Slot => ({ names, least: 1, most: 1 });
const inOrder = (...names: string[]): Slot[] => names.map((name) => maybe(name));

const anyText = (): boolean => true;
/** xsd:decimal, which knows no exponent. */
const isDecimal = (text: string): boolean => /^[+-]?(\d+(\.\d*)?|\.\d+)$/.test(text);
const within =
  (low: number, high: number, open = false) =>
  (text: string): boolean =>
    isDecimal(text) && Number(text) >= low && (open ? Number(text) < high : Number(text) <= high);
const holds = (text: (text: string) => boolean = anyText): ElementRule => ({ children: [], text });

const POINT: ElementRule = {
  children: [
    ...inOrder('ele', 'time', 'magvar', 'geoidheight', 'name', 'cmt', 'desc', 'src'),
    many('link'),
    ...inOrder('sym', 'type', 'fix', 'sat', 'hdop', 'vdop', 'pdop', 'ageofdgpsdata', 'dgpsid', 'extensions'),
  ],
  attributes: {
    // latitudeType is at least -90 and at most 90; longitudeType at least -180 and below 180.
    lat: { required: true, fits: within(-90, 90) },
    lon: { required: true, fits: within(-180, 180, true) },
  },
};
const about = [
  ...inOrder('name', 'cmt', 'desc', 'src'),
  many('link'),
  ...inOrder('number', 'type', 'extensions'),
];

export const GPX: Structure = {
  namespace: 'http://www.topografix.com/GPX/1/1',
  root: 'gpx',
  elements: {
    gpx: {
      children: [maybe('metadata'), many('wpt'), many('rte'), many('trk'), maybe('extensions')],
      attributes: {
        version: { required: true, fits: (text) => text === '1.1' },
        creator: { required: true, fits: anyText },
      },
    },
    metadata: {
      children: [
        ...inOrder('name', 'desc', 'author', 'copyright'),
        many('link'),
        ...inOrder('time', 'keywords', 'bounds', 'extensions'),
      ],
    },
    wpt: POINT,
    rtept: POINT,
    trkpt: POINT,
    rte: { children: [...about, many('rtept')] },
    trk: { children: [...about, many('trkseg')] },
    trkseg: { children: [many('trkpt'), maybe('extensions')] },
    name: holds(),
    desc: holds(),
    type: holds(),
  },
};

const GEOMETRY = ['Point', 'LineString', 'LinearRing', 'Polygon', 'MultiGeometry', 'Model'];
const FEATURE = [
  'NetworkLink',
  'Placemark',
  'PhotoOverlay',
  'ScreenOverlay',
  'GroundOverlay',
  'Folder',
  'Document',
];
const described = [
  ...inOrder('name', 'visibility', 'open', 'address', 'phoneNumber', 'Snippet', 'description'),
  maybe('LookAt', 'Camera'),
  maybe('TimeStamp', 'TimeSpan'),
  maybe('styleUrl'),
  many('Style', 'StyleMap'),
  maybe('Region'),
  maybe('ExtendedData', 'Metadata'),
];
const shape = inOrder('extrude', 'tessellate', 'altitudeMode');
const identified = { id: { required: false, fits: (text: string) => /^[A-Za-z_][\w.-]*$/.test(text) } };
/** colorType: four bytes in hexadecimal, opacity, blue, green, red. */
const isColour = (text: string): boolean => /^[0-9a-fA-F]{8}$/.test(text);

/** Longitude, latitude and perhaps height, apart by commas; places apart by blanks. */
const places = (text: string): string[][] =>
  text
    .trim()
    .split(/\s+/)
    .map((place) => place.split(','));
const arePlaces = (text: string): boolean =>
  places(text).every(
    ([longitude = '', latitude = '', height = '0', ...more]) =>
      within(-180, 180)(longitude) && within(-90, 90)(latitude) && isDecimal(height) && more.length === 0,
  );

export const KML: Structure = {
  namespace: 'http://www.opengis.net/kml/2.2',
  root: 'kml',
  elements: {
    kml: { children: [maybe('NetworkLinkControl'), maybe(...FEATURE)] },
    Document: { children: [...described, many('Schema'), many(...FEATURE)], attributes: identified },
    Folder: { children: [...described, many(...FEATURE)], attributes: identified },
    Placemark: { children: [...described, maybe(...GEOMETRY)], attributes: identified },
    Style: {
      children: inOrder('IconStyle', 'LabelStyle', 'LineStyle', 'PolyStyle', 'BalloonStyle', 'ListStyle'),
      attributes: identified,
    },
    LineStyle: { children: inOrder('color', 'colorMode', 'width') },
    PolyStyle: { children: inOrder('color', 'colorMode', 'fill', 'outline') },
    ExtendedData: { children: [many('Data'), many('SchemaData')] },
    Data: {
      children: [maybe('displayName'), once('value')],
      attributes: { name: { required: true, fits: anyText } },
    },
    Point: { children: [...inOrder('extrude', 'altitudeMode'), once('coordinates')] },
    LineString: { children: [...shape, once('coordinates')] },
    LinearRing: { children: [...shape, once('coordinates')] },
    Polygon: { children: [...shape, once('outerBoundaryIs'), many('innerBoundaryIs')] },
    outerBoundaryIs: { children: [once('LinearRing')] },
    innerBoundaryIs: { children: [once('LinearRing')] },
    MultiGeometry: { children: [many(...GEOMETRY)] },
    coordinates: holds(arePlaces),
    name: holds(),
    description: holds(),
    value: holds(),
    styleUrl: holds((text) => !/\s/.test(text)),
    color: holds(isColour),
    width: holds((text) => isDecimal(text) && Number(text) >= 0),
  },
};
