import type { SeasonWind } from '../air/season.ts';
import type { Carry, Pool, WindRecord } from '../air/types.ts';
import type { CoverBlock, CoverSource, Imagery } from '../cover/types.ts';
import type { Feature } from '../features/feature.ts';
import type { Grid } from '../grid/frame.ts';
import type { DeerSeason } from '../stands/deer-season.ts';
import type { StandReach, StandRisk } from '../stands/types.ts';
import type {
  Bench,
  ChannelStation,
  ContourLine,
  DrainageLine,
  DrainageStart,
  Draw,
  FormsLeftOut,
  RidgeLine,
  Saddle,
  WaterChanges,
} from '../terrain/types.ts';
import type { MarginShares } from '../travel/margin.ts';
import type { Sought } from '../travel/study.ts';
import type { Trial } from '../travel/trials.ts';
import type {
  Assumption,
  Corridor,
  Crossing,
  Junction,
  Neck,
  PlanTravel,
  Route,
  TravelArea,
} from '../travel/types.ts';
import type { TodayTravel } from '../travel/what-if.ts';

/** Ground and cover as the readers bring them in, on one frame. */
export interface Terrain {
  /** Ground elevation, m; NaN no data. */
  elevation: Grid;
  imagery: Imagery | null;
  /** Public NLCD codes; 0 no data. */
  landcover: Grid<Uint8Array> | null;
  /** Height of vegetation above the ground from a point cloud, m; NaN unknown. */
  vegetation: Grid | null;
  /** 1 where a hole of the elevation was filled from its rim: the ground there is a guess. */
  holes: Grid<Uint8Array> | null;
}

/** Everything the readers bring in, already on the property frame. */
export interface Sources extends Terrain {
  /** The same and as far again around the property, on wider cells; null where the files reach no farther. */
  surroundings: Terrain | null;
  features: Feature[];
  wind: WindRecord | null;
}

/** Everything the steps make. Grids in row-major cells on the frame; tables as plain data. */
export interface Results {
  /** Degrees. */
  slope: Grid;
  /** Degrees clockwise from grid north, the way the ground faces; NaN where flat. */
  aspect: Grid;
  /** Grey 1..255; 0 no data. */
  shade: Grid<Uint8Array>;
  /** Depressions filled, m. */
  filled: Grid;
  /** The surface water runs on: dams across draws cut through, sinkholes kept, the rest filled, m. */
  water: Grid;
  /** WATER_WORK codes of what was done to it; 0 nothing. */
  waterWork: Grid<Uint8Array>;
  waterChanges: WaterChanges;
  /** On the water surface: index 1..8 clockwise from east of the cell's receiver, 9 for a sink or outlet; 0 no data. */
  flowDirection: Grid<Uint8Array>;
  /** Cells drained, the cell itself included; 0 no data. */
  accumulation: Grid<Uint32Array>;
  /** Ground that starts a drainage line. */
  drainageStart: DrainageStart;
  drainageLines: DrainageLine[];
  /** How deep the channels are cut, every 25 m along the drainage lines. */
  channels: ChannelStation[];
  /** LANDFORM codes. */
  forms: Grid<Uint8Array>;
  saddles: Saddle[];
  benches: Bench[];
  ridges: RidgeLine[];
  draws: Draw[];
  formsLeftOut: FormsLeftOut;
  contours: ContourLine[];
  /** What this grid is too coarse or too bare to show, in plain words. */
  groundDoubts: string[];

  /** COVER codes. */
  cover: Grid<Uint8Array>;
  canopy: Grid;
  screening: Grid;
  footing: Grid;
  coverSource: CoverSource;
  coverDoubts: string[];
  /** Block numbers; 0 outside every block. */
  blocks: Grid<Int32Array>;
  coverBlocks: CoverBlock[];
  /** Distance to the edge of cover, m: positive out in the open, negative inside cover. */
  edgeDistance: Grid;

  /** The travel assumptions in force after the user's overrides. */
  assumptions: Assumption[];
  /** Cost of a metre of travel against a metre of easy ground, climbing and sidehill apart, at least 1; NaN no data. */
  resistance: Grid;
  /** Area numbers; 0 outside every area. */
  areas: Grid<Int32Array>;
  travelAreas: TravelArea[];
  corridors: Corridor[];
  /** The flow between the corridors' areas as it is today, which all that follows is read off or compared with. */
  todayTravel: TodayTravel;
  /** What the trials measure: necks, junctions and crossings before it is known how sure they are. */
  sought: Sought;
  /** The trials in four bands, in their order. */
  trials1: Trial[];
  trials2: Trial[];
  trials3: Trial[];
  trials4: Trial[];
  /** What a margin twice as wide does to what was sought; null where it cannot be tried. */
  marginShares: MarginShares | null;
  /** Share of all travel through a cell, 0..1; depends on cell size, so ranks use necks instead. */
  passage: Grid;
  necks: Neck[];
  crossings: Crossing[];
  junctions: Junction[];
  /** Ways drawn from the flow, for who meets what first. */
  routes: Route[];
  /** The proposed features, built: travel before and after. */
  planTravel: PlanTravel;
  travelDoubts: string[];

  /** Depth of cold air at the end of a clear calm night, pools and sliding layer together, m. */
  coldAir: Grid;
  /** Depth of still pools alone, m. */
  poolDepth: Grid;
  pools: Pool[];
  /** Speed of the sliding layer, m/s; NaN no data. */
  airSpeed: Grid;
  /** Degrees clockwise from grid north it slides towards; NaN where it stands. */
  airBearing: Grid;
  /** Wind of the cruising weeks and of the whole year by part of day; null without a record. */
  windSeason: { cruising: SeasonWind; year: SeasonWind } | null;
  /** One per stand, or per best neck where there are no stands; same order as `standRisks`. */
  carries: Carry[];
  airDoubts: string[];

  standRisks: StandRisk[];
  /** What each stand of the map reaches, sees and has behind it. */
  standReaches: StandReach[];
  /** The deer's own wind in the cruising weeks. */
  deerSeason: DeerSeason;
}

export type Artifacts = Sources & Results;
