import type { ReportPage } from '../../report.ts';
import { left, table } from '../table.ts';

const WORDS: [word: string, meaning: string][] = [
  ['Barricade', 'Felled tops laid in a line that deer go round rather than through.'],
  ['Basal area', 'Cross-section of all stems at breast height on an acre: how thick a stand is.'],
  ['Bench', 'A level step on a hillside.'],
  ['Carry', 'How far and where the air takes scent.'],
  ['Clean share', 'Share of the travel a stand meets before it meets the hunter’s scent.'],
  ['Cold pool', 'Still, cold air behind a sill on a clear calm night; scent stays in it.'],
  ['Corridor', 'The strip along which travel between two areas costs least.'],
  ['Crossing', 'Where a corridor meets a road, creek, fence or the property line.'],
  ['Draw', 'A small valley without a running stream.'],
  ['Firm', 'A finding that stays whatever uncertain number is varied.'],
  ['Hinge cut', 'A stem cut most of the way and laid over so that it lives on and screens.'],
  ['Junction', 'Where three or more strands of travel meet.'],
  ['Neck', 'A narrow place much travel must pass, ranked by share.'],
  ['Passage', 'Share of all modelled travel through a spot.'],
  [
    'Pure live seed',
    'The part of bought seed that is the named plant and will grow: purity times germination.',
  ],
  ['Saddle', 'The low place between two rises.'],
  ['Screen planting', 'Rows grown to hide people from deer or fields from a road.'],
  ['Share', 'A weight among the areas modelled; never a count of deer.'],
  ['Thermal', 'Air that rises or sinks along a slope as the ground warms or cools.'],
  ['UTM', 'A grid of metres east and north that a GPS shows; the map edges carry it.'],
];

export const glossaryPage = (): ReportPage => ({
  topic: 'glossary',
  title: 'Glossary',
  map: null,
  paragraphs: ['The trade’s words as they are used here.'],
  tables: table(
    'Words',
    [left('Word'), left('Meaning')],
    WORDS.map((row) => [...row]),
  ),
  doubts: [],
  cautions: [],
});
