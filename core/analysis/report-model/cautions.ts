/** Cautions stand where the work is listed. Each defers to local law and licensed practice. */
export const CAUTIONS = {
  map: 'This is desk work from rasters. Walk the ground before anything is cut, built or hunted on the strength of it.',
  line: 'Ownership lines here are as they were drawn, not a survey. Settle a line with a licensed surveyor and the recorded deed before cutting, fencing or hanging a stand near it.',
  neighbour:
    'A neck or crossing on a neighbour’s ground may be studied on the map, not entered. Ask first; trespass and retrieval law differ by state and province.',
  water:
    'Work in or beside a creek, its banks or wet ground can need a permit; ask the local authority before moving soil, felling into water or building a crossing. High water changes every ford and bank.',
  roads:
    'Roads and railroads are rights of way: no stand, blind or walking on a railroad, no shooting on, from or across either. Crossings draw deer onto the road; mind that when travel is moved.',
  steep:
    'Steep faces, cut banks and creek edges are falls waiting for a dark morning. Choose ways in that avoid them.',
  firearms:
    'Nothing here says a shot is safe. The person behind the gun or bow identifies the target and what lies beyond it every time, with a solid backstop, known positions of people, houses, stock and roads, and the legal setbacks of the place.',
  climbing:
    'Raised stands: wear a full-body harness tied in from the ground up, inspect trees, straps and ladders each season, haul weapons unloaded on a line, and follow the maker’s instructions.',
  saws: 'Felling, hinge cutting and tension wood kill trained people. Protective gear, a second person and sound training come first; have a licensed forester mark the trees, and check season limits for bats and nesting birds.',
  season:
    'Seasons, legal hours, weapons, baiting, blinds and setbacks are set by local law, which changes each year. Read the current rules.',
} as const;
