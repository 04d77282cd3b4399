import { perCorner, type Corner } from '../../../core/corners.ts';
import type { SheetContent, SheetLine } from '../../../core/paper/sheet/sheetPaper.ts';

/** A set-down of an invented car, all numbers made up. */

const line = (
  item: string,
  ...[target, tolerance, value, change, verdict]: string[]
): SheetLine => ({
  item,
  target: target ?? '',
  tolerance: tolerance ?? '',
  value: value ?? '',
  change: change ?? '',
  verdict:
    verdict === undefined
      ? ''
      : {
          text: verdict,
          mark: verdict === 'same' ? 'good' : verdict === 'moved' ? 'bad' : 'open',
        },
});

const WEIGHTS = { LF: '311.8', RF: '308.1', LR: '345.5', RR: '339.6' } as const;
const HEIGHTS = { LF: '52.0', RF: '52.5', LR: '61.0', RR: '59.5' } as const;

export const exampleSheet: SheetContent = {
  kind: 'Set-down sheet',
  title: 'Heron R2, after run 3',
  stamp: null,
  created: Date.UTC(2026, 5, 1, 9, 30),
  foot: 'Saltmarsh Racing, Meridian Trophy. Numbers are not permission: the series’ rules decide.',
  facts: [
    { name: 'Car', value: 'Heron R2' },
    { name: 'Outing', value: 'Meridian Trophy, practice 2' },
    { name: 'Venue', value: 'Larkfell, g = 9.813654 m/s²' },
    { name: 'Sheet', value: 'R2-14, released 1 Jun 2026, 07:10 UTC' },
    { name: 'Driver', value: '80 kg dummy in the seat' },
    { name: 'Fuel', value: '20 kg' },
    { name: 'Wheels', value: 'set-up wheels' },
    { name: 'State', value: { text: 'as agreed, 13 of 13', mark: 'good' } },
    { name: 'Cross weight', value: 'RF + LR over the total' },
    { name: 'Patch', value: 'not relaid since the set-up' },
    { name: 'Measured by', value: null },
    { name: 'Time', value: null },
  ],
  plan: {
    wheelbase: 2.7,
    trackFront: 1.68,
    trackRear: 1.65,
    corners: perCorner((corner: Corner) => ({
      label: corner,
      lines: [
        `${WEIGHTS[corner]} ±0.3 kg`,
        `Height ${HEIGHTS[corner]} mm`,
        `Camber −3.${corner === 'LF' ? '2' : '0'}°`,
        corner === 'LR' ? { text: 'Toe moved', mark: 'bad' } : { text: 'Toe same', mark: 'good' },
        null,
      ],
    })),
    centre: { behindFront: 1.417, left: 0.006 },
    below: 'Total 1305.0 kg, front 47.50 %, left 50.37 %, cross 50.08 %',
  },
  groups: [
    {
      heading: 'Weights',
      lines: [
        line('LF, kg', '312.4', '1.0', '311.8', '−0.6', 'same'),
        line('RF, kg', '307.5', '1.0', '308.1', '+0.6', 'same'),
        line('LR, kg', '344.8', '1.0', '345.5', '+0.7', 'cannot tell'),
        line('RR, kg', '340.3', '1.0', '339.6', '−0.7', 'cannot tell'),
        line('Total, kg', '1305.0', '1.0', '1305.0', '0.0', 'same'),
        line('Front, %', '47.50', '0.10', '47.50', '0.00', 'same'),
        line('Left, %', '50.36', '0.10', '50.37', '+0.01', 'same'),
        line('Cross, %', '50.00', '0.15', '50.08', '+0.08', 'same'),
      ],
    },
    {
      heading: 'Ride heights, from the pads',
      lines: [
        line('LF, mm', '52.0', '0.5', '52.0', '0.0', 'same'),
        line('RF, mm', '52.0', '0.5', '52.5', '+0.5', 'cannot tell'),
        line('LR, mm', '61.0', '0.5', '61.0', '0.0', 'same'),
        line('RR, mm', '61.0', '0.5', '59.5', '−1.5', 'moved'),
        line('Rake, mm', '9.0', '0.5', '8.0', '−1.0', 'moved'),
      ],
    },
    {
      heading: 'Camber',
      lines: (['LF', 'RF', 'LR', 'RR'] as const).map((corner) =>
        line(`${corner}, °`, '−3.00', '0.10', '−3.02', '−0.02', 'same'),
      ),
    },
    {
      heading: 'Toe, in positive',
      lines: [
        line('LF, mm', '−0.5', '0.3', '−0.5', '0.0', 'same'),
        line('RF, mm', '−0.5', '0.3', '−0.4', '+0.1', 'same'),
        line('LR, mm', '+1.5', '0.3', '+0.2', '−1.3', 'moved'),
        line('RR, mm', '+1.5', '0.3', '+1.5', '0.0', 'same'),
        line('Thrust angle, °', '0.00', '0.05', '−0.08', '−0.08', 'moved'),
      ],
    },
    {
      heading: 'Caster',
      lines: [
        line('Left, °', '8.0', '0.2', '8.0', '0.0', 'same'),
        line('Right, °', '8.0', '0.2', '8.1', '+0.1', 'same'),
      ],
    },
    {
      heading: 'Perches and ballast',
      lines: [
        ...(['LF', 'RF', 'LR', 'RR'] as const).map((corner) => ({
          ...line(`Perch ${corner}, turns`, '12½', '½'),
          value: null,
        })),
        line('Ballast, kg', '12.0', '0.0', '12.0', '0.0', 'same'),
      ],
    },
  ],
  ticks: {
    heading: 'Before the car rolls',
    items: [
      'Bars reconnected',
      'Lock-rings and locknuts',
      'Steering pin and pedal depressor out',
      'Dampers back',
      'Set-up wheels off, tyres on',
      'Wheel nuts',
      'Ballast fixed',
      'Skirts and doors',
    ].map((text, index) => ({ text, ticked: index < 3 })),
  },
};
