import type { Leaves, StandSpot } from '../../../core/stands/types.ts';
import { viewOnRoutes } from '../../../core/stands/view-on-routes.ts';
import { defineInquiry } from './inquiry.ts';

/** Of the ground in view of some stands, the share on a drawn route. */
export const logView = defineInquiry({
  needs: ['elevation', 'cover', 'screening', 'vegetation', 'routes'],
  run(inputs, { spots, leaves }: { spots: StandSpot[]; leaves: Leaves }) {
    return { share: viewOnRoutes(inputs, spots, inputs.routes, leaves) };
  },
});
