// What WebVTT and SRT have in common: times, cues, and the timed source they belong to.
//
// A cue that links a thing, [words](kind:slug), becomes a mention at its time (W3C Media Fragments 1.0, `t=12.5,17`)
// with the cue's words as quote; a speaker stands before the words. The source is named by a note `source: KEY` at the
// top of the file, else by the file's name; further lines of the note describe it (`title: ...`, columns of `sources`).
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "importers/claim_rows.h"
#include "importers/mention.h"
#include "importers/text_input.h"

namespace saggar {

// A line of a block, and where it stands.
struct TimedLine {
    std::uint32_t number = 0;
    std::string text;
};

// Times in milliseconds.
struct Cue {
    std::int64_t start = 0;
    std::int64_t end = 0;
    std::string text;        // plain, lines joined by a blank
    std::string speaker;     // may be empty
    std::uint32_t line = 0;  // of the timing line
};

// "12.5" for 12500: seconds without needless zeros.
std::string seconds_text(std::int64_t milliseconds);
// "t=12.5,17": Media Fragments 1.0, section 4.2.1.
std::string time_fragment(std::int64_t start, std::int64_t end);

// Gathers what a captions file says of its source, and puts its cues.
class TimedSource {
public:
    TimedSource(const std::string& file, const ReadContext& context, Sink& sink, Problems& problems,
                std::string default_source);

    // One line `column: value` of the note at the top; other lines are for the reader.
    void note_line(std::string_view line, const Place& place);
    // Settles the key and puts the source. Called by the first cue, or at the end.
    void settle(const Place& place);
    void cue(const Cue& cue, const Place& place);

private:
    Sink& sink_;
    Problems& problems_;
    MentionWriter mentions_;
    Source source_;
    FieldPlaces places_;
    std::string default_source_;
    std::string file_stem_;
    bool described_ = false;
    bool settled_ = false;
};

}  // namespace saggar
