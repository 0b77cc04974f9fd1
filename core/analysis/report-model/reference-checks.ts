import checks from './reference-checks.json' with { type: 'json' };

/** A method compared with something outside the project: a handbook, a closed form, another program. */
export interface ReferenceCheck {
  room: string;
  method: string;
  source: string;
  cases: number;
  /** Of all cases, and the most the tests let pass. */
  largest: number;
  allowed: number;
  /** What the difference is measured in. */
  unit: string;
}

/** What `npm run reference` found last, by room. */
export const REFERENCE_CHECKS: readonly ReferenceCheck[] = checks;
