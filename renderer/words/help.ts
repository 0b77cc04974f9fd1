import type { Stage } from '../state/stages.ts';
import { STAND_CAUTIONS, WORK_CAUTIONS } from './cautions.ts';

/** What a stage shows, how it comes about, what it cannot know, and what to mind: one short page each. */
export interface HelpPage {
  shows: string[];
  computed: string[];
  cannot: string[];
  cautions: string[];
}

const NOT_A_SURVEY =
  'Lines on this map are no survey. The line on the ground is the one the deed and the corners say.';

export const HELP: Record<Stage, HelpPage> = {
  ground: {
    shows: [
      'Slopes, ridges, spurs, saddles, benches and draws; where water runs and gathers; how deep a creek lies below its banks; what is in sight from a place; where the sun falls at an hour.',
      'A scanned plat or a photo pinned over the map, on every stage, and by how much it misses its pins.',
    ],
    computed: [
      'Everything comes from the elevation alone, cell by cell. Water runs on a surface where culverts and crossings were opened and other hollows filled; the map says what was done where.',
      'A creek’s depth is given only where it is at least three cells wide. A depth and width taped on the spot counts before the computed one.',
    ],
    cannot: [
      'What is smaller than a cell: ditches, washed-out banks, old roadbeds, the one log everything steps over.',
      'Whether a culvert is open today.',
    ],
    cautions: ['Banks are undercut and creeks rise. Look before you cross.', NOT_A_SURVEY],
  },
  cover: {
    shows: ['What grows or stands where: canopy above, screening at the height of a deer, footing below.'],
    computed: [
      'From the aerial photo, the height of what grows, or public land cover, whichever the property has; what you draw counts before that, and cover as you saw it on the ground, painted or drawn, before everything.',
    ],
    cannot: [
      'A photo from above shows the canopy. What hides a deer beneath it is marked unknown and varied, not guessed.',
      'What has been cut, planted or grown since the photo.',
    ],
    cautions: ['Cover from a photo is a reason to go and look, not to cut.'],
  },
  travel: {
    shows: [
      'Necks: the narrow places that much of the travel must pass. Crossings, junctions, and the ways between bedding, food and the edges of the property.',
      'What a barricade, a cleared trail, a lowered fence or new bedding would change.',
      'Rest the pointer anywhere on the map, on any stage: where a deer there goes next, each way as wide as its share, and where a person there is smelled at the hour and wind of the clock of the air.',
      'Choose a proposed barricade, fence or trail and drag a point of it, or all of it by the grip in its middle: travel that runs elsewhere is drawn as you drag.',
    ],
    computed: [
      'Each cell gets a cost for a deer from cover, openness, water, buildings and steep faces; a climb costs on top, coming down or going along a slope less so. Fences, roads, creeks and barricades cost what crossing them costs, a creek most where its banks are steep; a trail makes the way along it cheap and no other. Travel then spreads between its ends like current through a net of resistors.',
      'Where no bedding is drawn, likely beds are looked for: thick cover on benches and points with the wind at the back and a view below, south faces in winter. Your own areas take their place.',
      'A share is how much of all the travel computed goes through a place. Its band comes from running again with other weights; a neck is firm when it stays among the first ten whatever is changed.',
    ],
    cannot: [
      'How many deer there are, and on which day one passes.',
      'Why a deer does what it did this morning. The weights are assumptions with their sources beside them; sightings can be held against them.',
    ],
    cautions: ['Walk a neck before you cut, hang or plant anything there.', NOT_A_SURVEY],
  },
  air: {
    shows: [
      'The wind record by sector, month and part of day; air over the ground at an hour; where scent goes, how far, and when the air turns; where cold air drains and pools.',
      'Scent of somebody who walks a way in, minute by minute. How each trail lies to each wind, which bedding it passes downwind of, and where new bedding would be checked from one.',
    ],
    computed: [
      'The station’s wind is bent to this ground so that no air vanishes. On clear calm nights a layer of cold air slides down the slopes, held by banks, fills and timber edges, until the sun reaches each slope.',
      'Scent is thousands of particles let go at the seat and followed. The line at which a deer smells it is an assumption with a band.',
    ],
    cannot: [
      'Eddies behind rises and timber: there the direction is said to be not known.',
      'The wind of the day you hunt. Carry something that shows the air, and believe it before this map.',
    ],
    cautions: ['Nothing here is fit for spraying, burning or smoke. Those need a forecast and a permit.'],
  },
  stands: {
    shows: [
      'For each stand what it reaches and sees, what lies behind a deer in every direction, the way in and out, and in which winds and hours deer pass before they meet the scent.',
      'The season’s days by their hours: lawful light, rest, closed ground, and how often the wind of that month and part of the day was good.',
    ],
    computed: [
      'Routes are drawn from the computed travel and walked at a stated pace through the scent of that hour. A route counts as clean when it comes within reach and view before its first smelled step.',
    ],
    cannot: [
      'Whether a shot may be taken. The sectors show what was checked, and people, animals and vehicles move.',
      'Leaves and brush at the height of the muzzle, unless somebody has looked.',
    ],
    cautions: STAND_CAUTIONS,
  },
  work: {
    shows: [
      'The jobs of the plan with their amounts, hours and money, the days they can be done, and which come first.',
      'A plan the program drafts in three sizes, to be argued with line by line.',
    ],
    computed: [
      'Amounts come from what is drawn; hours and money from rates you can change, each with its source. A day is possible when frost, nesting, bats and the season leave it open.',
      'A draft tries barricades, trails, bedding and stands on the client’s ground one by one in travel and keeps what gains; what fits the hours of a size goes in, each aim in turn.',
    ],
    cannot: ['What the crew meets: rock, wire in trees, soft ground. Prices of your county.'],
    cautions: WORK_CAUTIONS,
  },
  report: {
    shows: ['The plan as it leaves the office: report, maps, and files for the phone and the crew.'],
    computed: [
      'Every page is made from the same results as the stages. What was not computed is said to be missing.',
    ],
    cannot: ['What changed on the ground after the files were made. Each page carries its date.'],
    cautions: [NOT_A_SURVEY, 'Check the pages you hand over. A reader takes what is printed for true.'],
  },
};

export const HELP_TITLES: Record<keyof HelpPage, string> = {
  shows: 'What it shows',
  computed: 'How it comes about',
  cannot: 'What it cannot know',
  cautions: 'Cautions',
};
