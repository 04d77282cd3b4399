import { CORNER_PAD_MODEL } from './cornerPad.ts';
import type { PadModel } from './model.ts';
import { WEIGHT_SCALE_MODEL } from './weightScale.ts';

/** Every pad model, richest first: a device that speaks two is taken at its best. */
export const PAD_MODELS: readonly PadModel[] = [CORNER_PAD_MODEL, WEIGHT_SCALE_MODEL];

/** What the choice of a model looks at: what a connected device was found to offer. */
interface Offered {
  readonly service: string;
  readonly uuid: string;
  readonly canNotify: boolean;
}

/** Whether a device that advertises these services may be a pad. */
export const isPadAdvertised = (
  services: readonly string[],
  models: readonly PadModel[] = PAD_MODELS,
): boolean =>
  models.some(({ service, alsoAdvertised = [] }) =>
    [service, ...alsoAdvertised].some((one) => services.includes(one)),
  );

/** The first model whose stream the device offers; null where none is. */
export const modelOf = (
  offered: readonly Offered[],
  models: readonly PadModel[] = PAD_MODELS,
): PadModel | null =>
  models.find(({ stream }) =>
    offered.some(
      (one) => one.canNotify && one.service === stream.service && one.uuid === stream.uuid,
    ),
  ) ?? null;
