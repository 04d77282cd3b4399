import type { ReactElement } from 'react';
import type { BenchState } from '../../../core/contract/events.ts';
import type { KeptOf } from '../../../core/contract/kept.ts';
import { CORNERS, cornerLabel } from '../../../core/corners.ts';
import type { PlateSize } from '../../../core/scrutineering/ballastProblem.ts';
import { useKept } from '../../live/useKept.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import { MassSets } from '../Pads/MassSets.tsx';
import { Plates } from '../Scrutineering/Plates.tsx';
import type { PartProps } from './CarsAndVenues.tsx';
import { OwnedTable } from './OwnedTable.tsx';

const standing = ({ assigned, settings }: BenchState, serial: string | null): string => {
  const corner = CORNERS.find((each) => serial !== null && assigned[each] === serial);
  return corner ? `at ${cornerLabel(corner, settings.cornerLabels)}` : 'spare';
};

/** The pads that are known: where each stands, and what was weighed with it. */
export const Pads = ({ state, usesOf }: PartProps): ReactElement => (
  <OwnedTable
    label="Pads"
    what="pad"
    none="No pad was heard yet: choose pads or practise, on Balance."
    rows={state.pads.map(({ key, serial, name, model }) => ({
      id: key,
      name: serial ?? name,
      about: [...(model === null ? [] : [model]), standing(state, serial)].join(', '),
      uses: serial === null ? [] : usesOf({ is: 'pad', id: serial }),
      does: [],
    }))}
  />
);

const NONE: readonly never[] = [];

/** The newest telling of each mass set that is set aside. */
const asideSets = (kept: readonly KeptOf<'mass set'>[]) =>
  [...new Map(kept.map((record) => [record.subject, record])).values()].flatMap(
    ({ set, isAside }) => (isAside ? [set] : []),
  );

/** The sets of reference masses, those set aside among them. */
export const Masses = ({ state, usesOf }: PartProps): ReactElement => {
  const { note, give } = useCommand();
  const aside = asideSets(useKept('mass set') ?? NONE);
  const about = (masses: number): string => (masses === 1 ? '1 mass' : `${masses} masses`);
  return (
    <>
      <OwnedTable
        label="Mass sets"
        what="mass set"
        none="None yet: add the first set."
        rows={[
          ...state.massSets.map(({ id, name, masses }) => ({
            id,
            name,
            about: about(masses.length),
            uses: usesOf({ is: 'mass set', id }),
            does: [],
          })),
          ...aside.map((set) => ({
            id: set.id,
            name: set.name,
            about: `${about(set.masses.length)}, set aside`,
            uses: usesOf({ is: 'mass set', id: set.id }),
            does: [
              {
                text: 'Take back',
                onPress: () =>
                  void give(
                    { do: 'keep mass set', set, isAside: false },
                    { doing: 'Storing.', done: () => `${set.name} is taken back.` },
                  ),
              },
            ],
          })),
        ]}
      />
      <NoteLine note={note} />
      <MassSets state={state} />
    </>
  );
};

/** Ballast plates and the plans that use them. */
export const PlatesOwned = ({
  state,
  usesOf,
  plates,
}: PartProps & { readonly plates: readonly PlateSize[] }): ReactElement => (
  <>
    <Plates plates={plates} massUnit={state.settings.massUnit} />
    <OwnedTable
      label="Plates in plans"
      what="size"
      none="A size of which there are none any more is set to 0, and plans leave it out."
      rows={plates.map(({ id, name, count }) => ({
        id,
        name,
        about: count === 0 ? 'none any more' : `${count} owned`,
        uses: usesOf({ is: 'plates', id }),
        does: [],
      }))}
    />
  </>
);
