import type { PaperBlock, PaperCell, PaperDocument } from '../../../core/paper/paperDocument.ts';

const cell = (each: PaperCell): string[] =>
  each === null ? [] : [typeof each === 'string' ? each : each.text];

/** Every text of a block, in no order that matters. */
const texts = (block: PaperBlock): string[] => {
  switch (block.is) {
    case 'heading':
      return [block.text];
    case 'text':
      return cell(block.text);
    case 'facts':
      return block.facts.flatMap(({ name, value }) => [name, ...cell(value)]);
    case 'table':
      return [
        ...block.columns.map(({ head }) => head),
        ...block.rows.flatMap((row) => ('group' in row ? [row.group] : row.flatMap(cell))),
      ];
    case 'ticks':
      return block.items.map(({ text }) => text);
    case 'pencil':
      return [block.label];
    case 'plan':
      return [
        block.below,
        ...Object.values(block.corners).flatMap(({ label, lines }) => [
          label,
          ...lines.flatMap(cell),
        ]),
      ];
    case 'plot':
      return [
        block.title,
        ...[block.across, block.up].flatMap(({ label, ticks }) => [
          label,
          ...ticks.map(({ text }) => text),
        ]),
        ...block.series.map(({ name }) => name),
      ];
    case 'beside':
      return block.parts.flatMap(({ blocks }) => blocks.flatMap(texts));
  }
};

/** Every text of a paper but its foot and its stamp, which stand on each page. */
export const paperTexts = ({ kind, title, blocks }: PaperDocument): string[] => [
  kind,
  title,
  ...blocks.flatMap(texts),
];

/** All blocks of one kind, those side by side among them. */
export const blocksOf = <Kind extends PaperBlock['is']>(
  blocks: readonly PaperBlock[],
  kind: Kind,
): Extract<PaperBlock, { is: Kind }>[] =>
  blocks.flatMap((block) => [
    ...(block.is === kind ? [block as Extract<PaperBlock, { is: Kind }>] : []),
    ...(block.is === 'beside' ? block.parts.flatMap((part) => blocksOf(part.blocks, kind)) : []),
  ]);
