/** What a person can choose from when the data itself does not say. */
export interface Question {
  /** The key under `answers` in property.json that settles it, e.g. `verticalUnit`. */
  key: string;
  /** Whole answers to choose from; with `columns` those that stand beside matching them. */
  choices: { value: string; label: string }[];
  /** Set where the answer says what the columns of a table hold. */
  columns?: ColumnQuestion;
  /** Folder or file that was being opened when it was asked: to be opened again with the answer. */
  path?: string;
}

/**
 * What the columns of a table may hold. The answer is `role=value` joined by `; `, in any order; a value with a
 * semicolon or quote in it stands in double quotes, quotes doubled.
 */
export interface ColumnQuestion {
  file: string;
  /** Names of the columns, no two alike. */
  header: string[];
  /** The first rows, as they stand. */
  sample: string[][];
  roles: {
    role: string;
    label: string;
    needed: boolean;
    /** What was answered or is guessed: a name of the header, or one of `choices`; null where there is none. */
    guess: string | null;
    /** What to choose from where it is not a column. */
    choices?: { value: string; label: string }[];
  }[];
  /** Why an earlier answer did not work; null the first time. */
  trouble: string | null;
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
