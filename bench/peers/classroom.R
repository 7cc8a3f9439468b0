# The classroom analysis with data.table and lm: a file with time (s) and temperature (degC); prints tau in s.
suppressPackageStartupMessages(library(data.table))
baseline <- 18
trial <- fread(commandArgs(trailingOnly = TRUE)[1], sep = "\t", col.names = c("time", "temperature"))
ambient <- trial[time < baseline, mean(temperature)]
peak <- trial[, which.max(temperature)]
trial[, fraction := (temperature - ambient) / (temperature[peak] - ambient)]
trial[, elapsed := time - time[peak]]
fit <- lm(log(fraction) ~ 0 + elapsed, data = trial[elapsed > 0 & fraction <= 0.9 & fraction >= 0.1])
cat(format(-1 / coef(fit)[["elapsed"]], digits = 12), "\n")
