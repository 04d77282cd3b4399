import { parseWithoutEval } from '../../core/contract/parseWithoutEval.ts';

/** Imported before all else: a schema that is made out of another is compiled as it is made. */
parseWithoutEval();
