/** Cautions shown where the thing they belong to is shown. Each defers to the person on the spot and to local law. */

export const NECK_CAUTION =
  'A neck is where the ground and cover say travel must squeeze, with the assumptions shown. It is no count of deer. Walk it before you cut, hang or plant anything.';

export const STAND_CAUTIONS = [
  'A direction that is not closed is one where nothing drawn here stood in the way; no shot is safe for that. Range, backstop, houses, roads, people and other hunters are for the person behind the gun to settle on the spot, every time.',
  'Setback distances, hours and seasons are set by local law. Look them up.',
  'A tree or tower is checked by hand before anyone climbs: anchorage, rot, fall protection worn from the ground up.',
];

export const WORK_CAUTIONS = [
  'A line drawn here is not a survey. Find the corners before you cut or fence near a neighbour.',
  'Felling and hinge cutting kill: bent wood springs, hung limbs fall. Train, wear the gear, never work alone.',
  'Creek banks, wet ground, road edges, roost trees and old sites may need a permit or must be left alone. Ask first.',
];
