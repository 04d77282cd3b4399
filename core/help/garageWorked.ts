import type { BackupsNow } from '../contract/backups.ts';
import { NOT_KNOWN, type Worked } from './worked.ts';

/** By which rule copies of the records are kept. */
export const garageWorked = ({ folder }: Pick<BackupsNow, 'folder'>): readonly Worked[] => [
  {
    what: 'Copies that are kept',
    formula:
      'all of the newest span, then the newest of each day, then the newest of each week; days and weeks are those of UTC',
    put: [
      { name: 'all', value: '24 hours' },
      { name: 'one a day', value: '30 days' },
      { name: 'one a week', value: '365 days' },
    ],
    result: folder ?? `${NOT_KNOWN}: no folder for copies is chosen`,
    source: 'Common practice. The newest copy and those of other computers are never taken away.',
  },
];
