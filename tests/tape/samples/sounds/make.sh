#!/usr/bin/env bash
# Makes the sound files beside it anew, from our own recording of one small program. The encoders are
# Debian's: lame, flac, opus-tools, vorbis-tools, sox, ffmpeg. Build listwright first.
set -eu
cd "$(dirname "$0")"
scratch=$(mktemp -d)
trap 'rm -r "$scratch"' EXIT
listwright="node $PWD/../../../../bin/listwright.js"
printf '.name "OAK"\n10 PRINT "LANTERN LOFT"\n' > "$scratch/oak.bas"
$listwright tokenise "$scratch/oak.bas" -o oak.img
$listwright record "$scratch/oak.bas" --lead 0.3 -o "$scratch/full.wav"
$listwright record "$scratch/oak.bas" --lead 0.3 --rate 11025 --bits 8 -o "$scratch/low.wav"
full=$scratch/full.wav low=$scratch/low.wav
lame --quiet -b 128 "$full" lame.mp3
lame --quiet -V 4 -t --id3v2-only --tt "OAK" "$full" tagged-no-count.mp3
flac -s -f -o flac.flac "$low"
flac -s -f --ogg -o flac.oga "$low"
oggenc -Q -q 5 "$full" -o oggenc.ogg
opusenc --quiet --bitrate 96 "$full" opusenc.opus
sox "$low" sox.aiff
ffmpeg -v error -y -i "$low" -c:a pcm_s16le -f aiff little-endian.aifc
ffmpeg -v error -y -i "$full" -c:a aac -b:a 192k ffmpeg.m4a
ffmpeg -v error -y -i "$full" -c:a aac -b:a 192k ffmpeg.aac
# Its last frame is of silence alone, and shorter than the header of a frame may be.
sox -D -r 44100 -n -c 1 -b 16 "$scratch/square.wav" synth 9216s square 441 vol 0.3 pad 0 515s
ffmpeg -v error -y -i "$scratch/square.wav" -bitexact short-last-frame.flac
