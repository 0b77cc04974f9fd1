import { catchment, shadow, view } from './ground.ts';

/** Every question that is answered in a worker, by the name of its request. */
export const INQUIRIES = {
  'ground.catchment': catchment,
  'ground.view': view,
  'ground.shadow': shadow,
};

export type InquiryName = keyof typeof INQUIRIES;
type InquiryOf<N extends InquiryName> = (typeof INQUIRIES)[N];
export type QuestionOf<N extends InquiryName> = Parameters<InquiryOf<N>['run']>[1];
export type FoundOf<N extends InquiryName> = ReturnType<InquiryOf<N>['run']>;
