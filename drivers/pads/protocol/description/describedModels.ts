import type { PadModel } from '../model.ts';
import { PAD_MODELS } from '../registry.ts';
import { parseDescription } from './parseDescription.ts';
import type { DescriptionProblem } from './problems.ts';

/** A description that is not used, and why. */
export interface UnusedDescription {
  /** Its place in the list, from 0. */
  readonly index: number;
  readonly problems: readonly DescriptionProblem[];
}

export interface DescribedModels {
  /** The described models, then the built-in ones: a description of the same stream is preferred. */
  readonly models: readonly PadModel[];
  readonly unused: readonly UnusedDescription[];
}

/** The models to use with a list of description texts; bad ones are left out and told. */
export const describedModels = (texts: readonly string[]): DescribedModels => {
  const models: PadModel[] = [];
  const unused: UnusedDescription[] = [];
  const names = new Set(PAD_MODELS.map(({ name }) => name));
  texts.forEach((text, index) => {
    const parsed = parseDescription(text);
    if (!parsed.ok) {
      unused.push({ index, problems: parsed.problems });
      return;
    }
    const { model, notices, description } = parsed.pad;
    const tell = (path: string, what: string): void => {
      unused.push({ index, problems: [{ path, what }] });
    };
    if (names.has(description.name)) tell('name', 'another name: this one is taken');
    else if (!model) tell('stream.by', notices[0] ?? 'the device does not stream');
    else {
      names.add(description.name);
      models.push(model);
    }
  });
  return { models: [...models, ...PAD_MODELS], unused };
};
