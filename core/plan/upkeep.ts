import { roundUpTo } from './arithmetic.ts';
import type { Job, JobKind, Upkeep } from './types.ts';

/**
 * What each kind asks for in the years after, as a share of the first year's hours and material. All shares are our
 * assumption; a barricade of tops rots in about five years, as travel has it too.
 */
interface Task {
  years: number[];
  task: string;
  hours: number;
  material: number;
}
const task = (years: number[], text: string, hours: number, material = 0): Task => ({
  years,
  task: text,
  hours,
  material,
});

const TASKS: Record<JobKind, Task[]> = {
  barricade: [
    task([2, 3, 4, 5], 'Walk it before the season; lay new tops where it has sunk or been breached', 0.2),
  ],
  'hinge cut': [
    task([3], 'Look for stems that died; open what has closed over the deer’s ways through', 0.15),
    task([5], 'Cut again where sprouts have grown past a deer’s head', 0.5),
  ],
  'felled bedding': [task([5], 'Cut sprouts back to keep the thicket low', 0.4)],
  'cleared trail': [task([2, 3, 4, 5], 'Brush, rake leaves and clear fallen limbs in late summer', 0.3)],
  'mulched lane': [task([2, 4], 'Mow or mulch sprouts', 0.3)],
  'screen planting': [
    task([2], 'Hold weeds down; replant what failed', 0.3, 0.1),
    task([3, 5], 'Mow or burn off the dead stand before green-up, where lawful', 0.15),
  ],
  conifers: [
    task([2], 'Weed round each plant; replace losses', 0.4, 0.15),
    task([3], 'Weed round each plant', 0.2),
  ],
  opening: [task([2, 3, 4, 5], 'Mow or cut sprouts once, after the nesting season', 0.15)],
  'food plot': [task([2, 3, 4, 5], 'Soil test, seed and lime anew', 1, 1)],
  'water crossing': [task([2, 3, 4, 5], 'Look after each high water; top up stone', 0.1, 0.1)],
  'fence lowering': [task([2, 3, 4, 5], 'Check rail, wire and stock', 0.25, 0.1)],
  stand: [
    task([2, 3, 4, 5], 'New straps, line and hardware check; trim lanes; take it down if in doubt', 0.5, 0.1),
  ],
  'tower blind': [task([2, 3, 4, 5], 'Check anchors, cables, ladder and floor before anyone climbs', 0.15)],
  'feeder to remove': [],
};

/** Upkeep in years 2 to 5 after each job was done. */
export const upkeepOf = (jobs: readonly Job[]): Upkeep[] =>
  jobs
    .flatMap((job) =>
      TASKS[job.kind].flatMap(({ years, task: text, hours, material }) =>
        years.map((year): Upkeep => {
          const { labour } = job.money;
          const money =
            labour === null || job.money.material === null
              ? null
              : labour * hours + job.money.material * material;
          return {
            job: job.id,
            year,
            task: text,
            hours: job.hours === null ? null : roundUpTo(job.hours * hours, 0.5),
            money: money === null ? null : roundUpTo(money, 10),
          };
        }),
      ),
    )
    .sort((a, b) => a.year - b.year);
