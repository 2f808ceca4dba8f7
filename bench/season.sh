#!/bin/sh
# Times 10,000 colony-years in Rust and in numpy, one core each, and prints both and their ratio.
# usage: bench/season.sh WEATHER.csv     (PYTHON=/path/to/python with numpy, default python3)
set -eu
cd "$(dirname "$0")/.."
weather=${1:?give a daily weather file, such as ../shared/data/weather/champion-nebraska-us.csv}
python=${PYTHON:-python3}
export OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1
cargo build --quiet --release -p season --example season_speed
rust=$(cargo run --quiet --release -p season --example season_speed -- "$weather")
numpy=$("$python" bench/season_numpy.py "$weather")
echo "rust:  $rust"
echo "numpy: $numpy"
"$python" - "$rust" "$numpy" <<'PY'
import json, sys
# Rust's Some(..)/None are not JSON; only the timings are needed
import re
rust = {k: float(v) for k, v in re.findall(r'"(\w+_s)": ([\d.]+)', sys.argv[1])}
numpy = json.loads(sys.argv[2])
print(f"daily step, weather per run:    {numpy['plain_s'] / rust['live_s']:.1f} x")
print(f"daily step, weather per day:    {numpy['table_s'] / rust['live_s']:.1f} x")
whole = (numpy['draw_s'] + numpy['plain_s']) / (rust['draw_s'] + rust['live_s'])
print(f"with drawing the weather years: {whole:.1f} x")
PY
