import type { JobKind } from './types.ts';

/** What a crew is told for each kind of job. Common practice, no source, where nothing else is said. */
export interface Lore {
  flagging: string;
  /** Which way trees go; null where none is felled. */
  fall: string | null;
  leave: string[];
  /** How it is known to be finished. */
  test: string;
  tools: string[];
  photo: string;
}

const LEAVE = [
  'Mast trees: oaks, hickories, persimmon, apple',
  'Cavity trees, snags with loose bark and den trees',
  'Trees on or near the property line',
  'Timber of value: whatever the forester marked',
];
const SAW_TOOLS = [
  'Chain saw and spare chain',
  'Wedges, peavey',
  'Fuel and bar oil',
  'First-aid kit with tourniquet',
  'Two radios or phones',
];
const FROM_ENDS =
  'One from each end along the line, one from the middle, before and after, from the same spots.';

const CUT: Lore = {
  flagging: 'Two bands of orange about the edge; blue on every tree that stays.',
  fall: 'Away from ways deer must keep open; never across the line or into water. The sawyer decides at each tree.',
  leave: LEAVE,
  test: 'Deer height is closed from 10 steps off all round, and two ways through are left open.',
  tools: SAW_TOOLS,
  photo:
    'From four sides of the edge looking in, and one from the middle, before and after, from the same spots.',
};

export const LORE: Record<JobKind, Lore> = {
  barricade: {
    flagging: 'Orange on the line every 20 steps; pink on each tree to fell.',
    fall: 'Along the line, tops lapped over the butt before, so that no gap is left at a stump. The sawyer decides at each tree.',
    leave: LEAVE,
    test: 'Walk its length on both sides: nowhere can a person step through or over without using the hands; both ends are tied to something a deer does not pass.',
    tools: [...SAW_TOOLS, 'Skidding cone and winch or tractor'],
    photo: FROM_ENDS,
  },
  'hinge cut': { ...CUT, tools: [...SAW_TOOLS, 'Pole with hook'] },
  'felled bedding': CUT,
  opening: {
    ...CUT,
    test: 'Sun reaches the ground at noon over the whole of it; slash is in piles or at the edge.',
  },
  'cleared trail': {
    flagging: 'Blue at eye height, the next always in sight.',
    fall: null,
    leave: [
      'Every tree thicker than a wrist: bend the trail instead',
      'Screening brush on the side of bedding',
    ],
    test: 'A person with a pack and bow walks it in the dark without a light touching nothing and breaking no stick.',
    tools: ['Brush saw or loppers', 'Rake or leaf blower', 'Hand saw'],
    photo: FROM_ENDS,
  },
  'mulched lane': {
    flagging: 'Blue on both edges; red on what the machine must not touch.',
    fall: null,
    leave: LEAVE,
    test: 'Full width end to end, mulch no deeper than a hand, no ruts that will carry water.',
    tools: ['Mulcher with guard and screens', 'Fire extinguisher', 'Spotter with radio'],
    photo: FROM_ENDS,
  },
  'screen planting': {
    flagging: 'Stakes at both ends of each row.',
    fall: null,
    leave: ['Anything that screens already'],
    test: 'Rows straight to the stakes, one plant or drill width as ordered, soil firm to the heel.',
    tools: ['Planting bar or drill', 'String and stakes', 'Seed tag kept with this sheet'],
    photo: 'Along the row from each end at eye height, when planted and each fall.',
  },
  conifers: {
    flagging: 'Stakes at both ends of each row.',
    fall: null,
    leave: ['Native shrubs that already shade the wind'],
    test: 'Roots straight down, collar at the ground, a tug on three leaves does not lift it.',
    tools: ['Planting bar', 'Bag with wet roots', 'Tubes or wire where deer browse'],
    photo: 'Along the row from each end, when planted and each fall.',
  },
  'food plot': {
    flagging: 'Stakes at the corners.',
    fall: null,
    leave: ['Mast trees about the edge'],
    test: 'Seed covered no deeper than its tag says, ground firm enough that a boot leaves no deep print.',
    tools: ['Sprayer or disc', 'Spreader or drill', 'Roller', 'Soil test in hand'],
    photo: 'From the stand looking over it, and from the middle to four sides.',
  },
  'water crossing': {
    flagging: 'Stakes at both banks and at the edge of the stone.',
    fall: null,
    leave: ['Bank trees and roots', 'The bed up and down stream'],
    test: 'Stone flush with the bed so that water and fish pass over it; both ramps gentle and seeded.',
    tools: [
      'Excavator or loader',
      'Geotextile under the stone',
      'Silt fence as the permit says',
      'The permit itself',
    ],
    photo: 'Upstream, downstream and both ramps, before, after, and after the first high water.',
  },
  'fence lowering': {
    flagging: 'White on the lowered top wire.',
    fall: null,
    leave: ['Line posts and corner braces'],
    test: 'Top rail at knee height, no loose wire, stock cannot push through.',
    tools: ['Fencing pliers', 'Rail and clips', 'Gloves and eye protection'],
    photo: 'Along the fence from both sides.',
  },
  stand: {
    flagging: 'None that others would follow.',
    fall: null,
    leave: ['Limbs that break the outline behind the seat'],
    test: 'Two people: seat level, straps new and dated, line tied from the ground to above the seat, lanes as drawn.',
    tools: ['Harness and lifeline for each climber', 'Straps', 'Pull rope', 'Pole saw'],
    photo: 'From the seat in eight directions, and the seat from where deer come.',
  },
  'tower blind': {
    flagging: 'Stakes at the four feet and the anchors.',
    fall: null,
    leave: ['Whatever breaks its outline'],
    test: 'Plumb, every anchor tight, ladder and rail fast, windows silent; two people shake it.',
    tools: ['The maker’s instructions', 'Auger, anchors, cable', 'Level', 'Harness'],
    photo: 'From each window, and the blind from where deer come.',
  },
  'feeder to remove': {
    flagging: 'None.',
    fall: null,
    leave: [],
    test: 'Feeder, spilled grain and the worked soil are gone; the day is written down for the warden.',
    tools: ['Shovel and bags', 'Truck or sled'],
    photo: 'The bare ground, with the date.',
  },
};
