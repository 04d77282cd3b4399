import type { ReactElement } from 'react';
import { CORNERS, cornerLabel, type Corner } from '../../../core/corners.ts';
import { PAD_RATES, type PadRate } from '../../../core/contract/commands.ts';
import type { BenchState, PadShown } from '../../../core/contract/events.ts';
import { FAULTS } from '../../../core/faults.ts';
import { fixed } from '../../../core/format/number.ts';
import { ageShown } from '../../../core/format/quantity.ts';
import { Choice } from '../../parts/Choice.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { Tag } from '../../parts/Tag.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import { lossWords, PHASE_WORDS, signalWords } from './padWords.ts';
import styles from './PadCard.module.css';

type Place = Corner | 'spare';

const SignalBars = ({ bars }: { readonly bars: number }): ReactElement => (
  <svg width="26" height="16" viewBox="0 0 26 16" aria-hidden="true" className={styles['bars']}>
    {[0, 1, 2, 3].map((index) => (
      <rect
        key={index}
        x={1 + index * 6.5}
        y={11 - index * 3.3}
        width="4.5"
        height={4 + index * 3.3}
        data-on={index < bars}
      />
    ))}
  </svg>
);

const Faults = ({ pad }: { readonly pad: PadShown }): ReactElement | null => {
  const codes = [...new Set(pad.faults.map(({ code }) => code))];
  if (codes.length === 0) return null;
  return (
    <ul className={styles['faults']}>
      {codes.map((code) => (
        <li key={code}>
          <strong>{FAULTS[code].cause}</strong> {FAULTS[code].remedy}
        </li>
      ))}
    </ul>
  );
};

/** The rate that was asked of it, of what it sends. */
const asked = (rate: number | null): `${PadRate}` | null => {
  const near = PAD_RATES.find((each) => rate !== null && Math.abs(rate / each - 1) < 0.1);
  return near === undefined ? null : `${near}`;
};

/** Why a pad's numbers can or cannot be believed, and where it belongs. */
export const PadCard = ({
  pad,
  state,
}: {
  readonly pad: PadShown;
  readonly state: BenchState;
}): ReactElement => {
  const { note, give } = useCommand();
  const { serial } = pad;
  const { zero, calibration, check } = pad;
  const signal = signalWords(pad.signal);
  const labels = state.settings.cornerLabels;
  const isWorking = pad.phase === 'live';
  const since = Math.max(0, state.t - pad.phaseSince);
  const facts: readonly (readonly [string, string | ReactElement])[] = [
    [
      'Signal',
      <span key="signal" className={styles['signal']}>
        <SignalBars bars={signal.bars} /> {signal.text}
      </span>,
    ],
    ['Battery', pad.battery === null ? 'unknown' : `${fixed(pad.battery, 0)}\u00A0%`],
    ['Temperature', pad.temperature === null ? 'unknown' : `${fixed(pad.temperature, 1)}\u00A0°C`],
    ['Rate', pad.rate === null ? 'unknown' : `${fixed(pad.rate, 1)}\u00A0Hz`],
    ['Losses', lossWords(pad)],
    ['Firmware', pad.firmware ?? 'unknown'],
    [
      'Zero',
      zero
        ? `${ageShown((state.wallAt - zero.takenAt) / 1000)} ago${zero.temperature === null ? '' : `, at ${fixed(zero.temperature, 1)}\u00A0°C`}`
        : 'none yet',
    ],
    [
      'Span',
      calibration
        ? `${calibration.place.name}, ${ageShown((state.wallAt - calibration.madeAt) / 1000)} ago`
        : 'maker’s rating',
    ],
    [
      'Known mass',
      check ? `${check.state}, ${ageShown((state.wallAt - check.at) / 1000)} ago` : 'not checked',
    ],
  ];
  return (
    <article
      className={styles['card']}
      data-live={isWorking}
      aria-label={`Pad ${serial ?? pad.name}`}
    >
      <header className={styles['head']}>
        <div>
          <h3>{serial ?? pad.name}</h3>
          <p className={styles['model']}>
            {[
              pad.name,
              pad.model,
              pad.ratedLoad === null ? null : `${fixed(pad.ratedLoad, 0)}\u00A0kg`,
            ]
              .filter((part) => part !== null && part !== serial)
              .join(', ')}
          </p>
        </div>
        <div className={styles['status']}>
          <Tag kind={isWorking ? 'note' : 'stale'}>
            {PHASE_WORDS[pad.phase]}
            {isWorking ? '' : ` ${ageShown(since)}`}
          </Tag>
          {pad.calibrated ? null : <Tag kind="note">not calibrated</Tag>}
          {calibration && calibration.inSpiteOf !== null ? (
            <Tag kind="alarm">in spite of findings</Tag>
          ) : null}
        </div>
      </header>
      <dl className={styles['facts']}>
        {facts.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      <Faults pad={pad} />
      {serial === null ? null : (
        <footer className={styles['place']}>
          <Choice<Place>
            label={`Corner of ${serial}`}
            labelUnseen
            options={[
              ...CORNERS.map((value) => ({ value, text: cornerLabel(value, labels) })),
              { value: 'spare', text: 'spare' },
            ]}
            value={pad.corner ?? 'spare'}
            onChange={(place) =>
              void give({ do: 'assign pad', serial, corner: place === 'spare' ? null : place })
            }
          />
          <Pick<`${PadRate}`>
            label="Samples a second"
            options={PAD_RATES.map((rate) => ({ value: `${rate}`, text: `${rate}` }))}
            value={asked(pad.rate)}
            placeholder="unknown"
            onChange={(rate) =>
              void give(
                { do: 'set rate', serial, rate: Number(rate) as PadRate },
                { doing: 'Asking it for another rate.', done: () => 'The rate is changed.' },
              )
            }
          />
          <PushButton
            small
            isDisabled={!isWorking}
            onPress={() =>
              void give(
                { do: 'identify pad', serial },
                { doing: 'Asking it to blink.', done: () => 'Its light blinks.' },
              )
            }
          >
            Blink
          </PushButton>
        </footer>
      )}
      {note ? <NoteLine note={note} /> : null}
    </article>
  );
};
