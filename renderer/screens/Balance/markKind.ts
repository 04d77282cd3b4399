import type { TagProps } from '../../parts/Tag.tsx';

/** How a mark of a capture looks. */
export const markKind = (mark: string): TagProps['kind'] =>
  mark === 'practice' ? 'practice' : mark.startsWith('zero moved') ? 'alarm' : 'note';
