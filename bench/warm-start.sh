#!/usr/bin/env bash
# From the command to the first byte of the page, several starts on the same journal:
#   bench/warm-start.sh target/release/combwright FOLDER [PORT]
set -euo pipefail
program=$1 folder=$2 port=${3:-8499}
for _ in 1 2 3 4 5 6 7; do
  began=$EPOCHREALTIME
  "$program" --data "$folder" --port "$port" --no-demo --no-browser >/dev/null &
  pid=$!
  until exec 3<>"/dev/tcp/127.0.0.1/$port"; do
    kill -0 "$pid"
    sleep 0.001
  done 2>/dev/null
  printf 'GET / HTTP/1.1\r\nHost: localhost:%s\r\nAccept-Encoding: br\r\nConnection: close\r\n\r\n' "$port" >&3
  IFS= read -r answer <&3
  ended=$EPOCHREALTIME
  cat <&3 >/dev/null
  exec 3>&-
  kill -INT "$pid"
  wait "$pid"
  stopped=$EPOCHREALTIME
  printf '%s: page after %d ms, stopped in %d ms\n' "${answer%$'\r'}" \
    $(((${ended/./} - ${began/./}) / 1000)) $(((${stopped/./} - ${ended/./}) / 1000))
done
