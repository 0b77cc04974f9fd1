/** What each stage does, by whose method, and what it is checked against. Kept in step with the kernels' own notes. */
export const METHODS: readonly { stage: string; method: string; source: string; check: string }[] = [
  {
    stage: 'Ground',
    method: 'Slope, aspect and shade from the eight neighbours',
    source: 'Horn 1981, Proc. IEEE 69',
    check: 'GDAL, cell by cell',
  },
  {
    stage: 'Ground',
    method: 'Depressions filled to their spill point over the graph of basins',
    source: 'Cordonnier, Bovy & Braun 2019, Earth Surface Dynamics 7',
    check: 'morphological reconstruction in scikit-image, exact',
  },
  {
    stage: 'Ground',
    method: 'Dams across draws cut through where least has to be moved, for water only',
    source: 'Lindsay & Dhun 2015, Int. J. Geographical Information Science 29',
    check: 'made-up road fills',
  },
  {
    stage: 'Ground',
    method: 'Flow to the steepest neighbour; flats routed from higher ground to their outlet',
    source: 'O’Callaghan & Mark 1984; Jenson & Domingue 1988; Garbrecht & Martz 1997',
    check: 'the worked grid of Jenson & Domingue',
  },
  {
    stage: 'Ground',
    method: 'Order of drainage lines',
    source: 'Strahler 1957, Trans. AGU 38',
    check: 'a textbook net',
  },
  {
    stage: 'Ground',
    method:
      'Ridges, spurs, draws and flats from lines of sight in eight directions and position at two scales',
    source: 'Jasiewicz & Stepinski 2013, Geomorphology 182; Weiss 2001',
    check: 'analytic surfaces; GDAL and SciPy for position',
  },
  {
    stage: 'Ground',
    method: 'Saddles as the passes of the surface that part two rises, ranked by how much they rise',
    source: 'Edelsbrunner, Letscher & Zomorodian 2002',
    check: 'analytic surfaces',
  },
  {
    stage: 'Cover',
    method: 'Plant and water indices, with thresholds found in the photo itself',
    source: 'Rouse et al. 1974; McFeeters 1996; Woebbecke et al. 1995; Otsu 1979',
    check: 'identities of the indices; scikit-image; labelled made-up scenes',
  },
  {
    stage: 'Cover',
    method: 'Classes of public land cover',
    source: 'legend of the National Land Cover Database',
    check: 'the published legend',
  },
  {
    stage: 'Travel',
    method:
      'Cost of ground from cover, exposure, edges and buildings; climbing, braking and sidehill by heading, steep faces all but shut; lines as costs of crossing, creeks by width, depth and the slope of their banks from place to place, trails as cheap ways along their line',
    source:
      'climbing: Parker, Robbins & Hanley 1984 (mule deer and elk); the rest are our assumptions, listed below',
    check:
      'even slopes and ditches in closed form; closed lines at every angle let nothing through, trails or no trails',
  },
  {
    stage: 'Travel',
    method:
      'Likely beds where none are drawn: thick cover on benches and points, the prevailing wind at the back and a view below, south faces in winter',
    source: 'common practice, weighed by us',
    check: 'hand-made ridges in winds from both sides',
  },
  {
    stage: 'Travel',
    method: 'Cheapest ways between areas',
    source: 'Dijkstra 1959; Dial 1969',
    check: 'scikit-image and SciPy',
  },
  {
    stage: 'Travel',
    method: 'Passage and necks: flow between random walk and cheapest way, net across a line',
    source: 'Saerens et al. 2009; Kivimäki et al. 2014; Doyle & Snell 1984; McRae et al. 2008',
    check: 'resistor networks in closed form; SciPy',
  },
  {
    stage: 'Travel',
    method: 'Bands from runs with all uncertain weights drawn together',
    source: 'McKay, Beckman & Conover 1979 (Latin hypercube)',
    check: 'the same seed gives the same runs',
  },
  {
    stage: 'Air',
    method: 'Depth and speed of the cold layer sliding downhill on a clear calm night',
    source: 'Manins & Sawford 1979, J. Atmos. Sci. 36; Bates et al. 2010; de Almeida et al. 2012',
    check: 'even slopes in closed form; air and heat kept',
  },
  {
    stage: 'Air',
    method: 'Pools of still air behind sills, filled by what flows in',
    source: 'depressions as in Ground, on the ground as surveyed',
    check: 'closed basins fill to their sill',
  },
  {
    stage: 'Air',
    method: 'Wind record in sixteen sectors with calms apart',
    source: 'hourly station records in NOAA’s published layouts',
    check: 'direct recount',
  },
  {
    stage: 'Stands',
    method:
      'How each trail lies to each wind, bedding it passes downwind of, and new bedding it would pass so',
    source: 'common practice, no source; reach and angles are our assumptions',
    check: 'bent trails by hand',
  },
  {
    stage: 'Stands',
    method: 'Scent followed down the night drainage to what it meets',
    source: 'our rule: bedding met or a pool is high, travel met is caution',
    check: 'hand-made slopes',
  },
];
