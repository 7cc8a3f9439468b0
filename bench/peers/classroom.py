"""The classroom analysis with pandas and statsmodels: a file with time (s) and temperature (degC); prints tau in s."""
import sys

import numpy as np
import pandas as pd
import statsmodels.api as sm

BASELINE = 18.0

table = pd.read_csv(sys.argv[1], sep="\t", header=0, names=["time", "temperature"])
ambient = table.loc[table["time"] < BASELINE, "temperature"].mean()
peak = table["temperature"].idxmax()
fraction = (table["temperature"] - ambient) / (table["temperature"].iat[peak] - ambient)
elapsed = table["time"] - table["time"].iat[peak]
within = (elapsed > 0) & (fraction <= 0.9) & (fraction >= 0.1)
fit = sm.OLS(np.log(fraction[within]), elapsed[within]).fit()
print(-1 / fit.params.iloc[0])
