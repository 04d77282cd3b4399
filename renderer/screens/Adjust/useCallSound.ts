import { useEffect, useRef } from 'react';
import { callPitch } from '../../../core/adjust/callPitch.ts';

/** Loud enough beside a fan, not in an ear; share of full scale. */
const LOUDNESS = 0.12;
/** Seconds in which the pitch glides, so that steps do not click. */
const GLIDE = 0.03;

interface Tone {
  readonly context: AudioContext;
  readonly oscillator: OscillatorNode;
}

/** A tone whose pitch nears the target's as the turns left near none; silent where they are not known. */
export const useCallSound = (isOn: boolean, remainingTurns: number | null): void => {
  const tone = useRef<Tone | null>(null);
  const sounds = isOn && remainingTurns !== null;
  useEffect(() => {
    if (!sounds) return undefined;
    const context = new AudioContext();
    const gain = context.createGain();
    gain.gain.value = LOUDNESS;
    const oscillator = context.createOscillator();
    oscillator.connect(gain).connect(context.destination);
    oscillator.start();
    tone.current = { context, oscillator };
    return () => {
      tone.current = null;
      oscillator.stop();
      void context.close();
    };
  }, [sounds]);
  useEffect(() => {
    const made = tone.current;
    if (!made || remainingTurns === null) return;
    made.oscillator.frequency.setTargetAtTime(
      callPitch(remainingTurns),
      made.context.currentTime,
      GLIDE,
    );
  }, [sounds, remainingTurns]);
};
