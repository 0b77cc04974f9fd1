import type { JobKind } from './types.ts';

/** Cautions beside the work they belong to. Each defers to local law and to licensed practice where one is needed. */

const SAW =
  'Chain saws kill trained people: helmet, eye, ear and leg protection, a second person in call, a way of retreat cleared before each cut. Whoever is not trained hires someone who is.';
const TENSION =
  'A bent or hinged stem is a loaded spring and splits up the trunk. Read tension and compression before each cut and stand to the side.';
const HANGING =
  'Look up first: dead tops, widow-makers and hung trees fall without warning. No one works under a hung tree; a machine or a professional takes it down.';
const BATS =
  'Leave trees with loose bark, cavities and dead tops standing. Roost trees of protected bats, nests and other protected species are a matter of federal and state law: ask the wildlife agency before felling.';
const LINE =
  'The line on the map is not a survey. Near it nothing is cut, laid or hung until a licensed surveyor or both neighbours have settled where it runs.';
const SITES =
  'Old foundations, cemeteries, mounds and scatters of artifacts stay untouched; state and federal law protects many. Stop and ask the historic preservation office.';
const WATER =
  'Beds, banks and wet ground are governed by permits, local, state and federal. Nothing is cut, dug or filled in or beside them until the authority has answered in writing.';
const ROAD =
  'Roads, railroads and power lines have rights of way: no cutting, planting, parking or laying of tops on them, and nothing that hides traffic from traffic or leads deer onto the road without thought.';
const HERBICIDE =
  'A herbicide is used only as its label says, which is the law, and by a licensed applicator where the state asks for one.';
const INVASIVE =
  'Fertile miscanthus spreads and is banned or listed in several states: plant the sterile form where it is lawful at all, or a native grass. Clean machines before they come from other ground.';
const MACHINE =
  'A mulcher throws wood a long way: nobody within the distance its maker names. Mark wells, wires, pipes and stones, and call before any digging.';
const STOCK =
  'A line fence has two owners and duties by state fence law. Agree in writing, keep stock in, and mark a lowered span so that nobody rides into it.';
const CLIMB =
  'Full-body harness tied in from the ground up and down again; tree, straps and ladder checked by hand each time; weapons hauled unloaded. Follow the maker’s instructions and never hang alone.';
const TOWER =
  'A tower stands on its anchors: set them as the maker says for this soil, check them before each climb, come down before wind and lightning. Loads beyond the maker’s are an engineer’s matter.';
const SHOT =
  'No stand here is called safe to shoot from. The person behind it knows target, muzzle and backstop, houses, roads, stock, people and other hunters, and the legal setbacks, every time; and wears hearing protection.';
const BAIT =
  'Bait, minerals and feed are set by state law, which changes with disease zones: how far, how long before the season all of it must be gone. Ask the warden.';
const SEED = 'Seed is labelled by law: use one free of noxious weeds, and test the soil before liming.';

/** Where this kind of work is listed, these stand beside it. */
const CAUTIONS: Record<JobKind, readonly string[]> = {
  barricade: [SAW, HANGING, TENSION, BATS, LINE],
  'hinge cut': [SAW, TENSION, HANGING, BATS, LINE, SITES],
  'felled bedding': [SAW, HANGING, BATS, LINE, SITES],
  opening: [SAW, HANGING, BATS, LINE, SITES],
  'cleared trail': [SAW, LINE, WATER, SITES],
  'mulched lane': [MACHINE, LINE, WATER, SITES, ROAD],
  'screen planting': [INVASIVE, HERBICIDE, ROAD, LINE],
  conifers: [HERBICIDE, ROAD, LINE],
  'food plot': [HERBICIDE, SEED, SITES, LINE],
  'water crossing': [WATER, MACHINE, SITES],
  'fence lowering': [STOCK, LINE],
  stand: [CLIMB, SHOT, LINE],
  'tower blind': [TOWER, CLIMB, SHOT, LINE],
  'feeder to remove': [BAIT],
};

export const cautionsOf = (kind: JobKind): readonly string[] => CAUTIONS[kind];
