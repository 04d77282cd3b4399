import type { Fault } from './fault.ts';
import { FILE_FAULTS } from './fileFaults.ts';
import { HOST_FAULTS } from './hostFaults.ts';
import { PAD_FAULTS } from './padFaults.ts';
import { STORE_FAULTS } from './storeFaults.ts';

/** Every fault that is brought about, in the order of the table. */
export const FAULTS: readonly Fault[] = [
  ...PAD_FAULTS,
  ...HOST_FAULTS,
  ...STORE_FAULTS,
  ...FILE_FAULTS,
];
