import { useEffect, useState } from 'react';

/** How often the clock is looked at, ms. */
const pause = 5000;

function minuteOfDay(): number {
  const now = new Date();
  return 60 * now.getHours() + now.getMinutes();
}

/** The minute of the day that it is, by this computer's clock; null where nobody asks. */
export function useMinute(asked: boolean): number | null {
  const [minute, setMinute] = useState(minuteOfDay);
  useEffect(() => {
    if (!asked) return;
    setMinute(minuteOfDay());
    const timer = setInterval(() => setMinute(minuteOfDay()), pause);
    return () => clearInterval(timer);
  }, [asked]);
  return asked ? minute : null;
}
