/** What a person can choose from when the data itself does not say. */
export interface Question {
  /** The key under `answers` in property.json that settles it, e.g. `verticalUnit`. */
  key: string;
  choices: { value: string; label: string }[];
}

/**
 * Something a person must put right: wrong input, a missing piece, an unwritable place.
 * The message says what is wrong in plain words; `file` names the input and `fix` what to do.
 * Everything else that is thrown is a fault of ours.
 */
export class Problem extends Error {
  readonly file: string | null;
  readonly fix: string;
  readonly question: Question | null;

  constructor(message: string, details: { file?: string; fix: string; question?: Question }) {
    super(message);
    this.name = 'Problem';
    this.file = details.file ?? null;
    this.fix = details.fix;
    this.question = details.question ?? null;
  }
}

/** Thrown by a step whose run was cancelled; not an error to show. */
export class Cancelled extends Error {
  constructor() {
    super('cancelled');
    this.name = 'Cancelled';
  }
}
