import { hour, night, rose, scent, stand, trails, wayScent, winds } from './air.ts';
import { effects, ideas } from './draft.ts';
import { hours, lostWays, scents } from './gains.ts';
import { catchment, shadow, view, wayView } from './ground.ts';
import { dragged, air as handAir, onward, smelled } from './hand.ts';
import { logView } from './log.ts';
import { screen } from './screens.ts';
import { cameras, rulings, sites } from './sites.ts';
import { sittings } from './sitting.ts';
import { approach, look, reaches, ways } from './stands.ts';
import { builtBand, closures, compare, fit, sightings, uncertainty, whatIf, why, years } from './travel.ts';
import { cases } from './verdict.ts';

/** Every question that is answered in a worker, by the name of its request or, of parts of one, its own. */
export const INQUIRIES = {
  'ground.catchment': catchment,
  'ground.view': view,
  'ground.wayView': wayView,
  'ground.shadow': shadow,
  'hand.air': handAir,
  'hand.dragged': dragged,
  'hand.onward': onward,
  'hand.smelled': smelled,
  'travel.why': why,
  'travel.builtBand': builtBand,
  'travel.whatIf': whatIf,
  'travel.closures': closures,
  'travel.compare': compare,
  'travel.years': years,
  'travel.uncertainty': uncertainty,
  'travel.sightings': sightings,
  'travel.fit': fit,
  'plan.draftIdeas': ideas,
  'plan.draftEffects': effects,
  'air.rose': rose,
  'air.windGround': winds,
  'air.clockNight': night,
  'air.clock': hour,
  'air.scent': scent,
  'air.wayScent': wayScent,
  'air.trails': trails,
  'air.stand': stand,
  'stands.ways': ways,
  'stands.look': look,
  'stands.reachAll': reaches,
  'stands.approach': approach,
  'stands.screen': screen,
  'stands.logView': logView,
  'stands.cases': cases,
  'stands.sittings': sittings,
  'stands.search': sites,
  'stands.rulings': rulings,
  'stands.cameras': cameras,
  'work.scents': scents,
  'work.lostWays': lostWays,
  'work.hours': hours,
};

export type InquiryName = keyof typeof INQUIRIES;
type InquiryOf<N extends InquiryName> = (typeof INQUIRIES)[N];
export type QuestionOf<N extends InquiryName> = Parameters<InquiryOf<N>['run']>[1];
export type FoundOf<N extends InquiryName> = ReturnType<InquiryOf<N>['run']>;
