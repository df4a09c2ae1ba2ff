// SubRip captions (.srt). There is no standard; this reads the form that players and editors agree on (common practice):
//
//   block = [number line-end] time " --> " time [position] line-end text-lines      blocks are parted by empty lines
//   time  = hours ":" mm ":" ss ("," | ".") mmm      hours of one or more digits, minutes and seconds up to 59
//
// The tags <b> <i> <u> <font ...> and {\...} are dropped. A block before the first cue whose lines read `column: value` takes the
// place of WebVTT's note (see timed_text.h); SRT has no other room for it.
#pragma once

#include "importers/timed_text.h"

namespace saggar {

void read_srt(TextInput& input, const ReadContext& context, Sink& sink, std::string default_source = {});

// A time in milliseconds; nothing where the text is not exactly one.
std::optional<std::int64_t> srt_time(std::string_view text);

// Cue text without its tags.
std::string srt_text(std::string_view text);

}  // namespace saggar
