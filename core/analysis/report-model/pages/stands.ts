import type { StandRisk } from '../../../stands/types.ts';
import type { ReportPage } from '../../report.ts';
import { CAUTIONS } from '../cautions.ts';
import { type Facts, position, WHOSE } from '../facts.ts';
import { left, right, table } from '../table.ts';
import { reachesTable } from './stand-reach.ts';
import { comparedTable, rulingsTable } from './stand-season.ts';

const ORDER: StandRisk['level'][] = ['high', 'caution', 'unknown', 'low'];

/** These take a third of the whole analysis again, so they are computed when they are asked for. */
function notAsked({ artifacts, found }: Facts): string[] {
  const missing = [
    ...(found.compared ? [] : ['the hours, clean share and ways in of each stand (Stands, Compare)']),
    ...(found.sheet ? [] : ['the season sheet (Stands, Season)']),
  ];
  return missing.length === 0 || !artifacts.features.some(({ kind }) => kind === 'stand')
    ? []
    : [
        `Not in this report, because they are computed when they are asked for and hold until something changes: ${missing.join(', ')}; without a window, --season asks for all of it.`,
      ];
}

export function standsPage(facts: Facts): ReportPage {
  const { artifacts, say } = facts;
  const risks = [...artifacts.standRisks].sort((a, b) => ORDER.indexOf(a.level) - ORDER.indexOf(b.level));
  const forNecks = risks.length > 0 && risks[0]!.subject.type === 'neck';
  return {
    topic: 'stands',
    title: 'Stands',
    map: {
      grids: ['shade', 'cold-air'],
      lines: ['features', 'corridors', 'necks', 'carries', 'stand-risks'],
      low: true,
    },
    paragraphs: [
      risks.length === 0
        ? 'There is no stand and no neck to judge.'
        : forNecks
          ? 'No stand was given, so the best necks are judged as if one hung there.'
          : 'Each stand is judged for a clear calm night and dawn: does it sit in still cold air, and does its scent run with the drainage onto bedding or travel.',
    ],
    tables: [
      ...comparedTable(facts),
      ...rulingsTable(facts),
      ...reachesTable(facts),
      ...table(
        'Night and dawn air at each stand, the worst first',
        [
          left('Stand'),
          left('Risk'),
          left('Where'),
          left('Whose ground'),
          right('Pool depth'),
          left('In one line'),
        ],
        risks.map((risk) => [
          risk.subject.name,
          risk.level,
          position(risk.at),
          WHOSE[risk.owner],
          risk.inPool ? say.height(risk.poolDepth) : 'none',
          risk.verdict,
        ]),
      ),
      ...table(
        'Why',
        [left('Stand'), left('Reasons')],
        risks
          .filter(({ reasons }) => reasons.length > 0)
          .map(({ subject, reasons }) => [subject.name, reasons.join(' ')]),
      ),
    ],
    doubts: [...new Set(risks.flatMap(({ doubts }) => doubts)), ...notAsked(facts)],
    cautions: [CAUTIONS.firearms, CAUTIONS.climbing, CAUTIONS.season],
  };
}
