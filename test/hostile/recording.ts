/** A recording that can be analyzed: at rest at 80 °C, then cooling to 20 °C, as text. */
export function decayText(seed = 1): string {
  const rows = Array.from({ length: 1200 }, (_, i) => {
    const time = i / 10;
    const value = time < 10 ? 80 : 20 + 60 * Math.exp(-(time - 10) / 12);
    return `${time.toFixed(1)};${(value + 0.01 * Math.sin(seed * i)).toFixed(3)}`;
  });
  return `Time (s);Sphere (degC)\n${rows.join('\n')}\n`;
}
