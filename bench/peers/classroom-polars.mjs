/** The classroom analysis in expressions of nodejs-polars: <folder with its node_modules> <file>; prints tau in s. */
import { createRequire } from 'node:module';
import { join, resolve } from 'node:path';

const [, , folder, file] = process.argv;
const pl = createRequire(join(resolve(folder), 'here.js'))('nodejs-polars');
const baseline = 18;

// Not readCSV, which takes a path for text where it does not end in .csv.
const table = pl.scanCSV(file, { sep: '\t' }).collectSync();
const [timeName, temperatureName] = table.columns;
const time = pl.col(timeName);
const temperature = pl.col(temperatureName);
const { ambient, hottest } = table
  .select(
    temperature
      .filter(time.lt(pl.lit(baseline)))
      .mean()
      .alias('ambient'),
    temperature.max().alias('hottest'),
  )
  .toRecords()[0];
const { start } = table
  .select(
    time
      .filter(temperature.eq(pl.lit(hottest)))
      .min()
      .alias('start'),
  )
  .toRecords()[0];
const chosen = table
  .select(
    time.minus(pl.lit(start)).alias('elapsed'),
    temperature
      .minus(pl.lit(ambient))
      .div(pl.lit(hottest - ambient))
      .alias('fraction'),
  )
  .filter(
    pl
      .col('elapsed')
      .gt(pl.lit(0))
      .and(pl.col('fraction').ltEq(pl.lit(0.9)))
      .and(pl.col('fraction').gtEq(pl.lit(0.1))),
  )
  .withColumn(pl.col('fraction').log().alias('logarithm'));
const { xx, xy } = chosen
  .select(
    pl.col('elapsed').mul(pl.col('elapsed')).sum().alias('xx'),
    pl.col('elapsed').mul(pl.col('logarithm')).sum().alias('xy'),
  )
  .toRecords()[0];
console.log(-xx / xy);
