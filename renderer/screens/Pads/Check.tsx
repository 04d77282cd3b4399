import { useEffect, useState, type ReactElement } from 'react';
import { OFF_CENTRE_PLACES, type OffCentrePlace } from '../../../core/calibration/offCentre.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import type { OffCentreShown } from '../../../core/contract/padHistory.ts';
import { fixed, HARD_SPACE, signed } from '../../../core/format/number.ts';
import { typedLength } from '../../../core/format/typed.ts';
import { massIn, type MassUnit } from '../../../core/units.ts';
import { newId } from '../../newId.ts';
import { useFrame } from '../../live/useLive.tsx';
import { Choice } from '../../parts/Choice.tsx';
import { Field, type Understood } from '../../parts/Field.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { Tag } from '../../parts/Tag.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import { MassChoice, nominalMass } from './MassChoice.tsx';
import { OnePadTrace } from './OnePadTrace.tsx';
import { padOptions } from './padOptions.ts';
import styles from './Calibrate.module.css';

const WHAT = ['span', 'edges'] as const;
const WHAT_TEXT = { span: 'known mass', edges: 'middle and edges' } as const;
const FIRST_DISTANCE = 0.1;

const understandDistance = (text: string): Understood<number> => {
  const typed = typedLength(text);
  if (!typed.ok) return typed;
  return typed.value > 0 && typed.value <= 1
    ? { ok: true, value: typed.value, said: typed.understood }
    : { ok: false, why: 'How far the edges are from the middle, up to 1 m.' };
};

const edgesInWords = (test: OffCentreShown, unit: MassUnit): string => {
  const show = (kg: number): string => `${signed(massIn(unit, kg), 3)}${HARD_SPACE}${unit}`;
  if (test.largest === null) return `Still to read: ${test.missing.join(', ')}.`;
  const places = test.places.map(({ place, difference }) => `${place} ${show(difference)}`);
  return `Against the middle: ${places.join(', ')}. ${
    test.isSeen ? 'It stands out of the scatter.' : 'None stands out of the scatter.'
  }`;
};

/** A known mass on one pad, or the mass at the middle and four edges. */
export const Check = ({ state }: { readonly state: BenchState }): ReactElement => {
  const { note, give } = useCommand();
  const [what, setWhat] = useState<(typeof WHAT)[number]>('span');
  const [chosenPad, setPad] = useState<string | null>(null);
  const [chosenSet, setSet] = useState<string | null>(null);
  const [massIds, setMassIds] = useState<readonly string[]>([]);
  const [distance, setDistance] = useState(FIRST_DISTANCE);
  const [place, setPlace] = useState<OffCentrePlace>('middle');
  const [testId, setTestId] = useState(newId);
  const [edges, setEdges] = useState<OffCentreShown | null>(null);
  const pads = padOptions(state);
  const pad = chosenPad ?? pads[0]?.value ?? null;
  const set = state.massSets.find(({ id }) => id === chosenSet) ?? state.massSets[0] ?? null;
  const shown = state.pads.find(({ serial }) => serial === pad);
  const unit = state.settings.massUnit;
  const isSettled = useFrame((frame) => frame?.onePad?.stillness === 'settled');

  useEffect(() => {
    if (pad !== null) void give({ do: 'watch pad', padSerial: pad });
    return () => void give({ do: 'watch pad', padSerial: null });
  }, [pad, give]);

  const begin = (): void => {
    setTestId(newId());
    setEdges(null);
  };
  const zero = (): void => {
    if (pad !== null)
      void give(
        { do: 'zero pad', padSerial: pad },
        { doing: 'Taking the zero.', done: () => 'Zero taken.' },
      );
  };
  const check = (): void => {
    if (pad !== null && set)
      void give(
        { do: 'check pad', padSerial: pad, massSetId: set.id, massIds: [...massIds] },
        { doing: 'Reading.', done: () => 'Checked and stored.' },
      );
  };
  const readEdge = async (): Promise<void> => {
    if (pad === null || !set) return;
    const given = await give(
      {
        do: 'read off centre',
        padSerial: pad,
        testId,
        place,
        distance,
        massSetId: set.id,
        massIds: [...massIds],
      },
      { doing: 'Reading.', done: () => `${place} read.` },
    );
    if (!given) return;
    const opened = await give({ do: 'open pad', padSerial: pad });
    if (opened?.is === 'pad opened')
      setEdges(opened.history.offCentre.find((each) => each.testId === testId) ?? null);
    setPlace(OFF_CENTRE_PLACES[OFF_CENTRE_PLACES.indexOf(place) + 1] ?? 'middle');
  };
  const put = (mass: number): void => {
    if (pad !== null)
      void give({
        do: 'put practice masses',
        padSerial: pad,
        mass,
        place: what === 'span' ? 'middle' : place,
        distance,
      });
  };

  return (
    <section className={styles['calibrate']} aria-label="Check of a pad">
      <div className={styles['fields']}>
        <Choice
          label="Check"
          options={WHAT.map((value) => ({ value, text: WHAT_TEXT[value] }))}
          value={what}
          onChange={setWhat}
        />
        <Pick label="Pad" options={pads} value={pad} placeholder="no pad heard" onChange={setPad} />
        <Pick
          label="Set of masses"
          options={state.massSets.map(({ id, name }) => ({ value: id, text: name }))}
          value={set?.id ?? null}
          placeholder="none yet: add one under Calibrate"
          onChange={setSet}
        />
        {what === 'edges' ? (
          <Field
            label="Edges from the middle"
            text={`${fixed(1000 * distance, 0)} mm`}
            inputMode="decimal"
            understand={understandDistance}
            onCommit={(next) => {
              setDistance(next);
              begin();
            }}
          />
        ) : null}
      </div>
      <div className={styles['work']}>
        <div className={styles['left']}>
          {pad === null ? null : <OnePadTrace serial={pad} unit={unit} />}
          {set ? <MassChoice set={set} chosen={massIds} unit={unit} onChange={setMassIds} /> : null}
          {state.practice ? (
            <div className={styles['practice']}>
              <Tag kind="practice">practice hands</Tag>
              {state.practice.car === 'raised' ? (
                <>
                  <PushButton small onPress={() => put(set ? nominalMass(set, massIds) : 0)}>
                    Put them on
                  </PushButton>
                  <PushButton small onPress={() => put(0)}>
                    Take all off
                  </PushButton>
                </>
              ) : (
                <PushButton small onPress={() => void give({ do: 'raise practice car' })}>
                  Raise the car first
                </PushButton>
              )}
            </div>
          ) : null}
        </div>
        <div className={styles['right']}>
          {what === 'span' ? (
            <p className={styles['help']}>
              Nothing on the pad: Zero. One known mass at the middle: Check. It says whether the
              span still holds since the calibration; the same mass at every venue makes the
              season’s chart.
            </p>
          ) : (
            <>
              <p className={styles['help']}>
                The same mass at the middle and over each edge, the middle again at the end. It
                shows what a wheel that does not stand in the middle, or pushes sideways, does to
                this pad.
              </p>
              <div className={styles['places']} role="group" aria-label="Where the mass stands">
                <span />
                <PushButton
                  onPress={() => setPlace('front')}
                  aria-pressed={place === 'front'}
                  look={place === 'front' ? 'main' : 'plain'}
                >
                  front
                </PushButton>
                <span />
                {(['left', 'middle', 'right'] as const).map((each) => (
                  <PushButton
                    key={each}
                    onPress={() => setPlace(each)}
                    aria-pressed={place === each}
                    look={place === each ? 'main' : 'plain'}
                  >
                    {each}
                  </PushButton>
                ))}
                <span />
                <PushButton
                  onPress={() => setPlace('rear')}
                  aria-pressed={place === 'rear'}
                  look={place === 'rear' ? 'main' : 'plain'}
                >
                  rear
                </PushButton>
                <span />
              </div>
              {edges ? <p>{edgesInWords(edges, unit)}</p> : null}
            </>
          )}
          {what === 'span' && shown?.check ? (
            <p className={styles['verdict']}>
              Last check: {shown.check.state}, {signed(100 * shown.check.relative, 3)}
              {HARD_SPACE}%.
            </p>
          ) : null}
          <footer className={styles['actions']}>
            <NoteLine
              note={note}
              otherwise={isSettled ? '' : 'Not yet: wait until the load lies still.'}
            />
            <div className={styles['buttons']}>
              {what === 'edges' ? <PushButton onPress={begin}>Begin anew</PushButton> : null}
              <PushButton isDisabled={!isSettled} onPress={zero}>
                Zero
              </PushButton>
              <PushButton
                look="main"
                isDisabled={!isSettled || massIds.length === 0}
                onPress={what === 'span' ? check : () => void readEdge()}
              >
                {what === 'span' ? 'Check' : `Read ${place}`}
              </PushButton>
            </div>
          </footer>
        </div>
      </div>
    </section>
  );
};
