/**
 * The invented property: where everything lies, in local metres (x east, y north from the south-west corner).
 * Ground, photo, wind, names and lines are all made up; the place on the globe is nominal.
 */
import { ringArea, smooth, type XY } from './lines.ts';

export const SEED = 2;
export const NAME = 'Tallowfork Farm (invented)';
/** UTM zone 17N; near 39.3° N, 81.7° W. */
export const EPSG = 32617;
export const WEST = 438600;
export const SOUTH = 4349100;
/** Size of the country made, m. */
export const WIDTH = 2700;
export const HEIGHT = 2500;
/** Cells of the two rasters, m. */
export const GROUND_CELL = 2.5;
export const PHOTO_CELL = 2;

/** Middle of the valley floor the farm lies in, and of the neighbour's valley in the north. */
export const floorLine = (x: number): number => 835 + 35 * Math.sin(x / 420 + 0.5) + 15 * Math.sin(x / 170);
export const northFloorLine = (x: number): number => 2360 + 30 * Math.sin(x / 380 + 2);

/** Tallow Fork flows west; east of `DEEP_FROM` it runs below banks a person cannot see over. */
export const CREEK: XY[] = smooth(
  Array.from({ length: 113 }, (_, i): XY => {
    const x = 2750 - i * 25;
    return [x, floorLine(x) - 34 + 32 * Math.sin(x / 72 + 1.2) + 9 * Math.sin(x / 23 + Math.sin(x / 60))];
  }),
  3,
);
export const bedElevation = (x: number): number => 198 + 0.003 * x;
/** x where the deep-cut reach ends and where the shallow one begins, m. */
export const DEEP_FROM = 1540;
export const SHALLOW_TO = 1440;
export const DEEP = { width: 9, depth: 3.4 };
export const SHALLOW = { width: 7, depth: 0.6 };

/** Gentle floors of the three hollows that open on the valley, from the mouth up; the hill grades to them. */
export const HOLLOWS: XY[][] = [
  [
    [797, 940],
    [832, 1010],
    [880, 1080],
    [905, 1120],
  ],
  [
    [1334, 925],
    [1340, 1000],
    [1372, 1080],
    [1380, 1130],
  ],
  [
    [1842, 895],
    [1838, 1000],
    [1826, 1090],
    [1818, 1130],
  ],
];
export const HOLLOW_GRADE = 0.025;

/** The railroad runs along the foot of the hill: in cuts through the noses, on fill over the hollows. */
export const RAIL: XY[] = smooth(
  [
    [-60, 1015],
    [300, 1012],
    [560, 992],
    [800, 972],
    [1080, 958],
    [1335, 950],
    [1600, 930],
    [1840, 922],
    [2080, 944],
    [2380, 985],
    [2760, 998],
  ],
  8,
);
export const railElevation = (x: number): number => 204.6 + 0.0036 * x;
/** Where the only underpass is, and the hollows that pass under the fill in a pipe. */
export const UNDERPASS: XY = [1333, 950];
export const CULVERTS: XY[] = [
  [813, 971.5],
  [1842, 922],
  [1958, 932],
];

/** Ditches from the two large culverts over the valley floor to the creek. */
export const DITCHES: XY[][] = [
  [
    [814, 975],
    [812, 900],
    [806, 804],
  ],
  [
    [1842, 930],
    [1840, 880],
    [1834, 790],
  ],
];

export const ROAD: XY[] = smooth(
  [
    [-60, 752],
    [200, 758],
    [480, 766],
    [760, 744],
    [1000, 728],
    [1250, 712],
    [1500, 690],
    [1750, 668],
    [2000, 674],
    [2300, 716],
    [2760, 742],
  ],
  8,
);

/** From the house over the ford to the fields; a track goes on through the underpass and up to the hay. */
export const LANE: XY[] = smooth(
  [
    [1252, 712],
    [1262, 745],
    [1272, 785],
    [1280, 835],
    [1296, 880],
    [1318, 912],
  ],
  6,
);
export const TRACK: XY[] = smooth(
  [
    [1318, 912],
    [1331, 938],
    [1333, 950],
    [1350, 1030],
    [1388, 1110],
    [1440, 1158],
    [1500, 1180],
    [1530, 1190],
  ],
  6,
);

/** Old logging trail from the hay field to the saddle. */
export const TRAIL: XY[] = smooth(
  [
    [1600, 1345],
    [1585, 1450],
    [1560, 1560],
    [1525, 1680],
    [1478, 1790],
    [1455, 1845],
    [1448, 1950],
  ],
  6,
);

export const POWERLINE: XY[] = [
  [1040, 2500],
  [1180, 0],
];
export const POWERLINE_WIDTH = 30;

/** The ditch of the hollow over the valley floor, in a strip of brush between the two fields. */
export const BRUSH_STRIP: XY[] = smooth(
  [
    [1334, 990],
    [1333, 950],
    [1338, 900],
    [1332, 850],
    [1322, 812],
    [1312, 780],
  ],
  6,
);
export const BRUSH_STRIP_WIDTH = 26;

export const BOUNDARY: XY[] = [
  [684, 604],
  [1978, 604],
  [1980, 1562],
  [1542, 1560],
  [1540, 1962],
  [1368, 1960],
  [1370, 1692],
  [960, 1640],
  [682, 1566],
];

export const CORN_WEST: XY[] = [
  [828, 877],
  [900, 872],
  [1060, 852],
  [1124, 852],
  [1126, 934],
  [930, 942],
  [828, 946],
];
/** Beans, cut by the season, in a field that wraps around a brushy point. */
export const BEANS: XY[] = [
  [1136, 852],
  [1200, 852],
  [1308, 862],
  [1313, 896],
  [1196, 900],
  [1194, 930],
  [1138, 933],
];
/** Where that field turns around the point: deer that keep to cover cut this corner. */
export const INSIDE_CORNER: XY = [1196, 900];
export const BRUSHY_POINT: XY[] = [
  [1196, 900],
  [1313, 896],
  [1322, 936],
  [1194, 938],
];
export const CORN_EAST: XY[] = [
  [1352, 866],
  [1500, 852],
  [1640, 830],
  [1790, 836],
  [1800, 892],
  [1610, 902],
  [1356, 922],
];
/** The upland hay field: wrapped around a point of timber, the inside corner, near the rim of the hollow. */
export const HAY: XY[] = [
  [1506, 1176],
  [1736, 1170],
  [1742, 1476],
  [1624, 1484],
  [1618, 1352],
  [1500, 1356],
];
/** Pasture on the crest of the western spur, under the power line. */
export const SPUR_PASTURE: XY[] = [
  [1046, 1150],
  [1130, 1110],
  [1216, 1140],
  [1226, 1300],
  [1208, 1420],
  [1196, 1540],
  [1120, 1560],
  [1060, 1420],
];
/** Pasture on the hill south of the road, on both sides of a wooded draw. */
export const SOUTH_PASTURES: XY[][] = [
  [
    [700, 470],
    [860, 500],
    [1060, 486],
    [1240, 470],
    [1300, 560],
    [1310, 652],
    [1180, 664],
    [960, 690],
    [780, 712],
    [700, 716],
  ],
  [
    [1520, 470],
    [1700, 440],
    [1900, 452],
    [1960, 520],
    [1950, 646],
    [1760, 640],
    [1560, 650],
    [1500, 560],
  ],
];
export const NEIGHBOUR_FIELDS: XY[][] = [
  [
    [60, 880],
    [320, 872],
    [640, 880],
    [650, 955],
    [330, 975],
    [70, 980],
  ],
  [
    [2040, 830],
    [2260, 842],
    [2500, 868],
    [2660, 872],
    [2660, 950],
    [2400, 940],
    [2060, 905],
  ],
  [
    [2040, 640],
    [2180, 660],
    [2330, 690],
    [2320, 630],
    [2200, 590],
    [2060, 585],
  ],
  // The neighbour's pasture on the ridge top, on both sides of the wooded saddle, and on the hill to the east.
  [
    [0, 1790],
    [200, 1800],
    [480, 1770],
    [800, 1742],
    [1000, 1738],
    [1180, 1722],
    [1290, 1790],
    [1362, 1850],
    [1360, 1952],
    [1240, 1900],
    [1060, 1850],
    [820, 1842],
    [480, 1860],
    [200, 1880],
    [0, 1868],
  ],
  [
    [1548, 1800],
    [1700, 1742],
    [1840, 1690],
    [1990, 1686],
    [2200, 1700],
    [2440, 1690],
    [2700, 1660],
    [2700, 1790],
    [2440, 1800],
    [2200, 1800],
    [1960, 1774],
    [1830, 1786],
    [1720, 1836],
    [1640, 1900],
    [1548, 1910],
  ],
  [
    [2250, 1120],
    [2480, 1080],
    [2700, 1070],
    [2700, 1560],
    [2480, 1580],
    [2300, 1500],
  ],
];

/** A pine planting on the south-facing bench and a young cut grown up in briars on the other one. */
export const PINES: XY[] = [
  [690, 1340],
  [780, 1352],
  [884, 1372],
  [890, 1440],
  [800, 1470],
  [694, 1452],
];
export const YOUNG_CUT: XY[] = [
  [1222, 1330],
  [1286, 1322],
  [1316, 1384],
  [1322, 1452],
  [1262, 1462],
  [1232, 1400],
];
export const NORTH_PINES: XY[] = [
  [1480, 2020],
  [1640, 2010],
  [1700, 2100],
  [1660, 2200],
  [1500, 2180],
];
/** A windthrow grown up thick on the hill beyond the road, and one in the eastern hollow. */
export const SOUTH_THICKET: XY[] = [
  [1330, 452],
  [1420, 438],
  [1490, 462],
  [1478, 530],
  [1400, 548],
  [1336, 520],
];
export const EAST_THICKET: XY[] = [
  [2060, 1330],
  [2150, 1318],
  [2200, 1372],
  [2178, 1440],
  [2090, 1448],
];
export const POND: XY[] = smooth(
  [
    [968, 766],
    [985, 758],
    [1002, 758],
    [1010, 766],
    [1000, 775],
    [982, 776],
    [968, 766],
  ],
  4,
);
export const HOUSE: XY[] = rectangle(1218, 684, 16, 11);
export const BARN: XY[] = rectangle(1276, 682, 24, 13);
/** West, south, east and north of the levelled yard. */
export const YARD = [1200, 668, 1298, 700] as const;

/** Two shelves in the hillside: level of the flat, the band of ground that is remade, and where. */
export const BENCHES = [
  { name: 'Hollow bench', level: 268, middle: [1296, 1450] as XY, along: 150, across: 90 },
  { name: 'South bench', level: 264, middle: [790, 1405] as XY, along: 130, across: 90 },
];

/** The saddle lies within a few metres of this spot. */
export const SADDLE: XY = [1452, 1850];

export const STANDS = [
  {
    id: 'stand-saddle',
    name: 'Saddle stand',
    at: [1470, 1838] as XY,
    seatHeight: 5.5,
    weapon: 'bow',
    range: 27,
  },
  { id: 'stand-bench', name: 'Bench stand', at: [1330, 1530] as XY, seatHeight: 5, weapon: 'bow', range: 27 },
  {
    id: 'stand-fill',
    name: 'Fill stand',
    at: [1846, 941] as XY,
    seatHeight: 3.6,
    weapon: 'shotgun',
    range: 70,
  },
];

/** Trap: sixty yards of felled tops across open timber that deer simply walk round. */
export const BARRICADE: XY[] = [
  [1528, 1610],
  [1582, 1602],
];

export const EAST_FENCE: XY[] = [
  [1978, 700],
  [1979, 1100],
  [1980, 1562],
];
/** Fences that keep deer off the rails, on both sides, open at the underpass. */
export const RAIL_FENCES: XY[][] = [14, -14].map((aside) =>
  RAIL.filter(([x]) => x >= 0 && x <= WIDTH).map(([x, y]): XY => [x, y + aside]),
);
export const RAIL_FENCE_GAPS: XY[] = [
  [1333, 964],
  [1333, 936],
];
export const FENCE_GAP: XY = [1979.4, 1290];
/** Where people park. */
export const ACCESS: XY = [1250, 690];

export const OWNED_AREA = ringArea(BOUNDARY);

function rectangle(x: number, y: number, width: number, depth: number): XY[] {
  return [
    [x - width / 2, y - depth / 2],
    [x + width / 2, y - depth / 2],
    [x + width / 2, y + depth / 2],
    [x - width / 2, y + depth / 2],
  ];
}
