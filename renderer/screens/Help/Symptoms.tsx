import type { ReactElement } from 'react';
import { markedText, SYMPTOMS } from '../../../core/help/symptoms.ts';
import styles from './Help.module.css';

const Marked = ({ text }: { readonly text: string }): ReactElement => (
  <>
    {markedText(text).map(({ as, text: part }) => {
      if (as === 'shown') return <em key={part}>{part}</em>;
      if (as === 'typed') return <kbd key={part}>{part}</kbd>;
      return part;
    })}
  </>
);

/** When something is wrong: from what is seen to what to do. */
export const Symptoms = (): ReactElement => (
  <table className={styles['symptoms']}>
    <thead>
      <tr>
        <th scope="col">what is seen</th>
        <th scope="col">what to do</th>
      </tr>
    </thead>
    <tbody>
      {SYMPTOMS.map(({ symptom, remedy }) => (
        <tr key={symptom}>
          <th scope="row">
            <Marked text={symptom} />
          </th>
          <td>
            <Marked text={remedy} />
          </td>
        </tr>
      ))}
    </tbody>
  </table>
);
