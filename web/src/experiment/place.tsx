export function ExperimentPlace() {
  return null;
}
