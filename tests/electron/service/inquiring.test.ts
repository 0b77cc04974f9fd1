import { expect, test } from 'vitest';
import { Cancelled } from '../../../core/grid/problem.ts';
import type { ServiceEvent } from '../../../electron/service/contract.ts';
import { createInquiring } from '../../../electron/service/inquiring.ts';
import type { OpenProperty } from '../../../electron/service/open-property.ts';
import type { StepPool } from '../../../electron/workers/step-pool.ts';

/** A pool whose work is finished by hand, and which looks at its flag then, as workers do. */
function handPool() {
  const under: {
    params: unknown;
    cancel: Int32Array;
    report(fraction: number): void;
    finish(): void;
  }[] = [];
  const pool = {
    run: (
      { params, cancel }: { params: unknown; cancel: SharedArrayBuffer },
      report: (fraction: number) => void,
    ) =>
      new Promise((resolve, reject) => {
        const flag = new Int32Array(cancel);
        under.push({
          params,
          cancel: flag,
          report,
          finish: () => (flag[0] === 1 ? reject(new Cancelled()) : resolve({ of: params })),
        });
      }),
  };
  return { pool: pool as unknown as StepPool, under };
}

const property = {
  artifacts: { elevation: {}, cover: {}, canopy: {}, wind: null },
} as unknown as OpenProperty;
const night = (noon: number) => ({ noon, cooling: 50, wind: 0.5, cloud: 0 });
const settled = () => new Promise((resolve) => setTimeout(resolve));
const kind = (promise: Promise<unknown>) =>
  promise.then(
    () => 'answered',
    (error) => (error as { trouble: { kind: string } }).trouble.kind,
  );

test('a request taken back stops the parts beneath it, and none begins after', async () => {
  const { pool, under } = handPool();
  const inquiring = createInquiring(pool, () => {});
  const answer = inquiring.within('air.stand', async (inquirer) => {
    await inquirer.share(inquiring.begin((each) => each.ask(property, 'air.clockNight', night(1))));
    return inquirer.ask(property, 'air.windGround', null);
  });
  await settled();
  expect(inquiring.cancel('air.stand')).toBe(true);
  expect(await kind(answer)).toBe('cancelled');
  expect(under[0]!.cancel[0]).toBe(1);
  under[0]!.finish();
  await settled();
  expect(under).toHaveLength(1);
  expect(inquiring.cancel('air.stand')).toBe(false);
});

test('what two requests wait for goes on while one of them does, and fails to be shared once nobody does', async () => {
  const { pool, under } = handPool();
  const events: ServiceEvent[] = [];
  const inquiring = createInquiring(pool, (event) => events.push(event));
  const work = inquiring.begin((each) => each.ask(property, 'air.clockNight', night(1)));
  const clock = inquiring.within('air.clock', (inquirer) => inquirer.share(work, [0, 0.5]));
  const stand = inquiring.within('air.stand', (inquirer) => inquirer.share(work, [0.2, 0.4]));
  await settled();
  under[0]!.report(0.5);
  expect(events).toEqual([
    { type: 'ask.progress', ask: 'air.clock', fraction: 0.25 },
    { type: 'ask.progress', ask: 'air.stand', fraction: 0.30000000000000004 },
  ]);
  inquiring.cancel('air.stand');
  expect(await kind(stand)).toBe('cancelled');
  expect(under[0]!.cancel[0]).toBe(0);
  expect(work.failed()).toBe(false);
  under[0]!.finish();
  expect(await clock).toEqual({ of: night(1) });

  const other = inquiring.begin((each) => each.ask(property, 'air.clockNight', night(2)));
  const alone = inquiring.within('air.clock', (inquirer) => inquirer.share(other));
  await settled();
  inquiring.cancel();
  expect(await kind(alone)).toBe('cancelled');
  expect(other.failed()).toBe(true);
});

test('two nights at once do not take each other for the same question', async () => {
  const { pool, under } = handPool();
  const inquiring = createInquiring(pool, () => {});
  const both = inquiring.within('air.turns', async (inquirer) =>
    Promise.all(
      [1, 2].map((noon) =>
        inquirer.share(inquiring.begin((each) => each.ask(property, 'air.clockNight', night(noon)))),
      ),
    ),
  );
  await settled();
  expect(under).toHaveLength(2);
  for (const each of under) each.finish();
  expect(await both).toEqual([{ of: night(1) }, { of: night(2) }]);
});

test('a newer request of a name takes the place of the older one', async () => {
  const { pool, under } = handPool();
  const inquiring = createInquiring(pool, () => {});
  const older = inquiring.ask(property, 'air.clockNight', night(1), 'air.clock');
  const newer = inquiring.ask(property, 'air.clockNight', night(2), 'air.clock');
  expect(await kind(older)).toBe('cancelled');
  await settled();
  for (const each of under) each.finish();
  expect(await newer).toEqual({ of: night(2) });
});
