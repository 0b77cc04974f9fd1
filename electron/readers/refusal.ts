import { Problem } from '../../core/grid/problem.ts';

/** A Problem whose message and fix are written as clauses here and read as sentences there. */
export function refusal(message: string, details: ConstructorParameters<typeof Problem>[1]): Problem {
  const { file, fix } = details;
  // A file's name keeps the letters it has on the disk.
  const named = file !== undefined && message.startsWith(file);
  return new Problem(named ? ended(message) : sentence(message), { ...details, fix: sentence(fix) });
}

const sentence = (clause: string): string => ended(clause.charAt(0).toUpperCase() + clause.slice(1));
const ended = (clause: string): string => (/[.!?…]$/.test(clause) ? clause : `${clause}.`);
