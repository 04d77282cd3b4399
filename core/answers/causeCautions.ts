import type { CauseWhat } from '../compare/causes/cause.ts';
import type { CautionStep } from './caution.ts';

/** What has to be minded when a cause is confirmed as it says; null where only eyes and pads are used. */
const cautionOf = (what: CauseWhat): CautionStep | null => {
  switch (what.kind) {
    case 'strut':
      return 'before a spring is freed';
    case 'bar':
      return 'before reaching in';
    case 'wheel':
    case 'wheels exchanged':
      return 'at a wheel';
    case 'pad':
    case 'twist':
      return 'before raising';
    case 'pad height':
      return 'at the laser';
    case 'ballast moved':
      return 'at the ballast';
    case 'mass':
      return what.place.kind === 'fuel'
        ? 'at the fuel'
        : what.place.kind === 'ballast'
          ? 'at the ballast'
          : null;
    case 'mass along':
    case 'mass across':
    case 'toe link':
    case 'camber shim':
    case 'height point':
      return null;
  }
};

/** The cautions of confirming these causes, each once, in the order of the causes. */
export const causeCautions = (causes: readonly CauseWhat[]): readonly CautionStep[] => [
  ...new Set(causes.map(cautionOf).filter((step) => step !== null)),
];
