import type { Condition, DescribedField } from './fieldSchema.ts';
import type { DescriptionProblem, Tell } from './problems.ts';
import { maskFor, type PlannedPayload } from './payloadPlan.ts';
import { variantProblems } from './variantProblems.ts';

/**
 * Whether the fields of a payload fit each other: what a schema of single fields cannot see. Each
 * problem names the place and says what to do.
 */

const rangeOf = (field: DescribedField): readonly [number, number] => {
  const isSigned = 'signed' in field && field.signed === true;
  const whole = 2 ** (8 * field.width);
  return isSigned ? [-whole / 2, whole / 2 - 1] : [0, whole - 1];
};

/** Whether a condition names bits that are known when it is asked. */
const lookAtCondition = (
  fields: readonly DescribedField[],
  before: number,
  condition: Condition,
  path: string,
  tell: Tell,
): void => {
  const { step } = maskFor(fields, condition);
  const field = fields[step];
  if (!field || field.is !== 'bits' || step >= before)
    tell(`${path}.field`, 'name a field of kind “bits” that stands earlier in the list');
  else if (field.when) tell(`${path}.field`, 'name bits that are always present');
  else if (condition.bits.some((bit) => bit >= 8 * field.width))
    tell(`${path}.bits`, `use bits 0 to ${8 * field.width - 1} of “${field.name}”`);
  if (new Set(condition.bits).size < condition.bits.length)
    tell(`${path}.bits`, 'name each bit once');
  if (condition.is >= 2 ** condition.bits.length)
    tell(`${path}.is`, `write 0 to ${2 ** condition.bits.length - 1}: the bits say no more`);
};

const lookAtBits = (
  field: Extract<DescribedField, { is: 'bits' }>,
  path: string,
  tell: Tell,
): void => {
  const most = 8 * field.width - 1;
  const look = (bits: readonly number[], at: string): void => {
    if (bits.some((bit) => bit > most)) tell(at, `use bits 0 to ${most}: there are no others`);
  };
  look(field.zero ?? [], `${path}.zero`);
  field.status?.forEach(({ bit }, k) => look([bit], `${path}.status[${k}].bit`));
  if (!field.rate) return;
  look(field.rate.bits, `${path}.rate.bits`);
  const codes = 2 ** field.rate.bits.length;
  if (field.rate.values.length !== codes)
    tell(`${path}.rate.values`, `give ${codes} rates, one for each code; null for one not used`);
};

const lookAtLoad = (
  fields: readonly DescribedField[],
  field: Extract<DescribedField, { is: 'load' }>,
  index: number,
  path: string,
  tell: Tell,
): void => {
  const { units, repeat, sentinels } = field;
  units.forEach((unit, k) => {
    const at = `${path}.units[${k}]`;
    if (unit.when) lookAtCondition(fields, fields.length, unit.when, `${at}.when`, tell);
    else if (units.length > 1) tell(at, 'say when this unit is meant: there are several');
    if (unit.unit === 'counts' && unit.scale !== undefined)
      tell(`${at}.scale`, 'take it out: counts are counted one by one');
    if (unit.unit !== 'counts' && unit.scale === undefined)
      tell(`${at}.scale`, `missing: say what one step is in ${unit.unit}`);
    if ((unit.unit === 'counts') !== (units[0]?.unit === 'counts'))
      tell(at, 'send counts or a unit of load, not both: nothing says what counts weigh');
  });
  if (repeat && repeat.least > repeat.most) tell(`${path}.repeat`, 'make least no more than most');
  const [low, high] = rangeOf(field);
  sentinels?.forEach(({ value }, k) => {
    if (value < low || value > high)
      tell(`${path}.sentinels[${k}].value`, `write a number from ${low} to ${high}`);
  });
  if (field.when) tell(`${path}.when`, 'take it out: every payload has its load');
  const before = fields.slice(0, index);
  if (before.some((one) => one.is === 'load'))
    tell(path, 'keep one load; samples that follow each other are one load with “repeat”');
};

const lookAtField = (
  fields: readonly DescribedField[],
  index: number,
  path: string,
  tell: Tell,
): void => {
  const field = fields[index] as DescribedField;
  const before = fields.slice(0, index);
  if (before.some(({ name }) => name === field.name))
    tell(`${path}.name`, `another name: “${field.name}” is taken`);
  if (field.when) lookAtCondition(fields, index, field.when, `${path}.when`, tell);
  if (field.at !== undefined && field.at < 0) {
    if (field.when)
      tell(`${path}.when`, 'take it out: what is placed from the end is always there');
    if (field.is === 'load' && field.repeat) tell(`${path}.at`, 'place samples from the start');
  } else if (before.some(({ at }) => at !== undefined && at < 0))
    tell(`${path}.at`, 'place it from the end too, or before those that are');
  if (before.some((one) => one.is === 'load' && one.repeat)) {
    if (field.when) tell(`${path}.when`, 'take it out: what follows the samples is always there');
    if (field.at !== undefined && field.at >= 0)
      tell(`${path}.at`, 'after the samples leave it out, or count from the end');
  }
  const [low, high] = rangeOf(field);
  switch (field.is) {
    case 'bits':
      return lookAtBits(field, path, tell);
    case 'load':
      return lookAtLoad(fields, field, index, path, tell);
    case 'sequence':
    case 'clock':
      if (field.when) tell(`${path}.when`, `take it out: a ${field.is} is in every payload`);
      if (before.some(({ is }) => is === field.is)) tell(path, `keep one ${field.is}`);
      if (field.is === 'sequence' && field.width < 2)
        tell(`${path}.width`, 'use 2 to 4 bytes; a number that wraps sooner is of kind “other”');
      if (field.is === 'clock' && field.width !== 4)
        tell(`${path}.width`, 'use 4 bytes of milliseconds; any other clock is of kind “other”');
      return;
    case 'constant':
      if (field.value > high) tell(`${path}.value`, `write a number from ${low} to ${high}`);
      return;
    case 'check':
      if (field.width > 2) tell(`${path}.width`, 'use 1 or 2 bytes');
      if (field.xor > high) tell(`${path}.xor`, `write a number from ${low} to ${high}`);
      return;
    case 'other':
      if (field.width > 4 && (field.allowed ?? field.signed) !== undefined)
        tell(path, 'split it: a number has 1 to 4 bytes');
      field.allowed?.forEach(([from, to], k) => {
        if (from > to || from < low || to > high)
          tell(`${path}.allowed[${k}]`, `give a lower and an upper end within ${low} to ${high}`);
      });
      return;
    case 'rated load':
    case 'rated counts':
      if (field.when) tell(`${path}.when`, 'take it out: a rating says this always');
      if (before.some(({ is }) => is === field.is))
        tell(path, `keep one field of kind “${field.is}”`);
      return;
  }
};

/** What does not fit in a list of fields; `path` is where the list's owner stands. */
export const planProblems = (
  payload: PlannedPayload,
  path: string,
): readonly DescriptionProblem[] => {
  const problems: DescriptionProblem[] = [];
  const tell: Tell = (at, what) => problems.push({ path: at, what });
  payload.fields.forEach((_field, index) =>
    lookAtField(payload.fields, index, `${path}.fields[${index}]`, tell),
  );
  // Places are only worth looking at once every field is sound.
  if (problems.length === 0) variantProblems(payload, path, tell);
  return problems;
};
