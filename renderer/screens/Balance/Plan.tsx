import type { ReactElement } from 'react';
import { CORNERS } from '../../../core/corners.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { useFrame } from '../../live/useLive.tsx';
import { useSize } from '../../parts/useSize.ts';
import { cgView } from './balanceView.ts';
import { CarDrawing } from './CarDrawing.tsx';
import { CornerBlock } from './CornerBlock.tsx';
import { blockTop, planGeometry } from './planGeometry.ts';
import styles from './Plan.module.css';

const CgWords = (): ReactElement => {
  const words = useFrame((frame) => cgView(frame)?.words ?? null);
  return (
    <p className={styles['cg']}>
      {words === null ? 'No centre of gravity yet' : `Centre of gravity ${words}`}
    </p>
  );
};

/** The car from above with a block at each wheel. */
export const Plan = ({ state }: { readonly state: BenchState }): ReactElement => {
  const [element, size] = useSize<HTMLDivElement>();
  const plan = size ? planGeometry(state.car, size.width, size.height) : null;
  return (
    <section className={styles['frame']} aria-label="The car from above, front up">
      <div className={styles['plan']} ref={element}>
        {plan ? (
          <>
            <CarDrawing car={state.car} plan={plan} />
            {CORNERS.map((corner) => (
              <div
                key={corner}
                className={styles['place']}
                style={{
                  width: plan.block.width,
                  height: plan.block.height,
                  top: blockTop(plan, corner === 'LF' || corner === 'RF' ? 'front' : 'rear'),
                  ...(corner === 'LF' || corner === 'LR' ? { left: 0 } : { right: 0 }),
                }}
              >
                <CornerBlock corner={corner} state={state} />
              </div>
            ))}
          </>
        ) : null}
      </div>
      <CgWords />
    </section>
  );
};
