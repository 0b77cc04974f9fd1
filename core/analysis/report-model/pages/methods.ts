import { decimal } from '../../../features/units.ts';
import type { ReportPage } from '../../report.ts';
import type { Facts } from '../facts.ts';
import { METHODS } from '../methods-list.ts';
import { REFERENCE_CHECKS } from '../reference-checks.ts';
import { left, right, table } from '../table.ts';

export function methodsPage({ artifacts, settings, frame }: Facts): ReportPage {
  const { assumptions } = artifacts;
  const ours = assumptions.filter(({ source }) => source === 'our assumption').length;
  const number = (value: number): string => String(Number(value.toFixed(3)));
  return {
    topic: 'methods',
    title: 'Methods and assumptions',
    map: null,
    paragraphs: [
      `Everything above is computed from one grid of ${decimal(frame.width, 0)} by ${decimal(frame.height, 0)} cells and can be traced back to it. Lengths inside are metric; the units of this report are exact conversions of them (NIST SP 811).`,
      `Travel rests on ${assumptions.length} numbers, ${ours} of which no publication settles: they are our assumptions, open to change, and varied between low and high in ${settings.travel.runs} runs.`,
    ],
    tables: [
      ...table(
        'Methods',
        [left('Stage'), left('Method'), left('Published source'), left('Checked against')],
        METHODS.map(({ stage, method, source, check }) => [stage, method, source, check]),
      ),
      ...table(
        'Travel assumptions in force',
        [left('Assumption'), right('Value'), right('Low'), right('High'), left('Unit'), left('Source')],
        assumptions.map(({ label, value, low, high, unit, source }) => [
          label,
          number(value),
          number(low),
          number(high),
          unit,
          source,
        ]),
      ),
      ...table(
        'What the methods were checked against',
        [left('Method'), left('Source'), right('Cases'), right('Largest difference'), left('Measured in')],
        REFERENCE_CHECKS.map(({ method, source, cases, largest, unit }) => [
          method,
          source,
          decimal(cases, 0),
          largest === 0 ? 'none' : largest.toPrecision(2),
          unit,
        ]),
      ),
    ],
    doubts: [
      'The travel weights say how ground compares, not how many deer there are. Tracks, cameras and your own eyes overrule them.',
    ],
    cautions: [],
  };
}
