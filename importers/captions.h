// WebVTT captions (W3C, "WebVTT: The Web Video Text Tracks Format", Candidate Recommendation 4 April 2019).
//
//   file    = "WEBVTT" [blank text] line-end 1*line-end blocks
//   block   = NOTE | STYLE | REGION | cue          blocks are parted by empty lines
//   cue     = [identifier line-end] time " --> " time [settings] line-end text-lines
//   time    = [hours ":"] mm ":" ss "." mmm        minutes and seconds up to 59, three decimals, hours of two or more
//   digits
//
// Tags in cue text are dropped, but the voice tag <v Name> names the speaker; character references are decoded. A cue
// ends after it starts. The note at the top: see timed_text.h.
#pragma once

#include "importers/timed_text.h"

namespace saggar {

void read_captions(TextInput& input, const ReadContext& context, Sink& sink, std::string default_source = {});

// A WebVTT time in milliseconds; nothing where the text is not exactly one.
std::optional<std::int64_t> webvtt_time(std::string_view text);

// Cue text without its tags: what is said, and by whom.
struct SpokenText {
    std::string text;
    std::string speaker;
};
SpokenText webvtt_text(std::string_view text);

}  // namespace saggar
