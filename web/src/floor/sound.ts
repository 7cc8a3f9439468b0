/** A tone for a new urgent call: two notes, made here. A browser allows it only after a person pressed something. */

/** Hz, each for so many s, at a part of full loudness. */
const notes = [660, 880] as const;
const length = 0.18;
const loudness = 0.25;

export interface Sound {
  ring(): void;
  close(): void;
}

export function openSound(): Sound {
  const context = new AudioContext();
  return {
    ring: () => {
      void context.resume();
      notes.forEach((frequency, i) => {
        const begin = context.currentTime + i * length;
        const oscillator = context.createOscillator();
        const gain = context.createGain();
        oscillator.frequency.value = frequency;
        gain.gain.setValueAtTime(0, begin);
        gain.gain.linearRampToValueAtTime(loudness, begin + 0.02);
        gain.gain.linearRampToValueAtTime(0, begin + length);
        oscillator.connect(gain).connect(context.destination);
        oscillator.start(begin);
        oscillator.stop(begin + length);
      });
    },
    close: () => void context.close(),
  };
}
