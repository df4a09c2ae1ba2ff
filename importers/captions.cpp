#include "importers/captions.h"

#include <fmt/format.h>

#include <vector>

#include "importers/line_input.h"
#include "importers/text_decode.h"
#include "importers/words.h"

namespace saggar {
namespace {

constexpr std::string_view arrow = "-->";

bool read_digits(std::string_view& text, std::size_t least, std::size_t most, std::int64_t& number) {
    std::size_t count = 0;
    number = 0;
    while (count < text.size() && count <= most && text[count] >= '0' && text[count] <= '9') {
        number = number * 10 + (text[count++] - '0');
    }
    text.remove_prefix(std::min(count, text.size()));
    return count >= least && count <= most;
}

bool read_sign(std::string_view& text, char sign) {
    if (text.empty() || text.front() != sign) return false;
    text.remove_prefix(1);
    return true;
}

struct Reference {
    std::string_view name;
    std::string_view text;
};

// Section 4.2.2: cue text may hold character references of HTML; these are the names met in captions. Any other stays as it
// is written.
constexpr Reference references[] = {{"&amp;", "&"},        {"&lt;", "<"},         {"&gt;", ">"},         {"&nbsp;", "\u00a0"},  {"&lrm;", "\u200e"},
                                    {"&rlm;", "\u200f"},   {"&quot;", "\""},      {"&apos;", "'"},       {"&ndash;", "\u2013"}, {"&mdash;", "\u2014"},
                                    {"&hellip;", "\u2026"}, {"&lsquo;", "\u2018"}, {"&rsquo;", "\u2019"}, {"&ldquo;", "\u201c"}, {"&rdquo;", "\u201d"},
                                    {"&pound;", "\u00a3"}, {"&frac12;", "\u00bd"}, {"&deg;", "\u00b0"}};

// "&#39;" and "&#x27;" at the beginning of a text; their length, or 0 where there is none.
std::size_t numeric_reference(std::string_view text, std::string& out) {
    if (text.substr(0, 2) != "&#") return 0;
    const bool hex = text.size() > 2 && (text[2] == 'x' || text[2] == 'X');
    std::size_t at = hex ? 3 : 2;
    std::uint32_t point = 0;
    const std::size_t first = at;
    for (; at < text.size() && at < first + 7; ++at) {
        const char c = text[at];
        const int digit = c >= '0' && c <= '9' ? c - '0' : hex && c >= 'a' && c <= 'f' ? c - 'a' + 10 : hex && c >= 'A' && c <= 'F' ? c - 'A' + 10 : -1;
        if (digit < 0) break;
        point = point * (hex ? 16 : 10) + static_cast<std::uint32_t>(digit);
    }
    const bool sound = at > first && at < text.size() && text[at] == ';' && point >= 0x20 && point <= 0x10FFFF && (point < 0xD800 || point > 0xDFFF);
    if (!sound) return 0;
    append_utf8(static_cast<char32_t>(point), out);
    return at + 1;
}

std::string with_references(std::string_view text) {
    std::string out;
    while (!text.empty()) {
        std::size_t taken = numeric_reference(text, out);
        for (const Reference& reference : references) {
            if (taken != 0 || text.substr(0, reference.name.size()) != reference.name) continue;
            out += reference.text;
            taken = reference.name.size();
        }
        if (taken == 0) {
            out += text.front();
            taken = 1;
        }
        text.remove_prefix(taken);
    }
    return out;
}

class CaptionsReader {
public:
    CaptionsReader(TextInput& input, const ReadContext& context, Sink& sink, std::string default_source)
        : input_(input),
          lines_(input),
          source_(input.name(), context, sink, input.problems(), std::move(default_source)) {}

    void read() {
        if (!signature()) return;
        for (std::vector<TimedLine> block; next_block(block);) read_block(block);
        source_.settle(Place{input_.name(), 1, 0, "", 0});
    }

private:
    bool wrong(const TimedLine& line, std::size_t begin, std::size_t end, std::string id, std::string message,
               std::string next) {
        input_.problems().add({std::move(id), Severity::error,
                               place_in_line(input_.name(), line.number, line.text, begin, end), std::move(message),
                               std::move(next)});
        return false;
    }

    bool signature() {
        std::string_view line;
        const bool any = lines_.next(line);
        const TimedLine first{1, std::string(any ? line : "")};
        const std::string_view text = first.text;
        if (text.substr(0, 6) != "WEBVTT" || (text.size() > 6 && text[6] != ' ' && text[6] != '\t')) {
            return wrong(first, 0, text.size(), "captions-signature", "the first line is not WEBVTT",
                         "write WEBVTT on the first line, and an empty line below");
        }
        // Lines right below are no block; programs put "Kind: captions" there, and section 6.1 has readers pass over them.
        bool told = false;
        while (lines_.next(line) && !line.empty()) {
            const TimedLine below{lines_.number(), std::string(line)};
            if (line.find(arrow) != std::string_view::npos) {
                return wrong(below, 0, line.size(), "captions-header", "a cue stands right below WEBVTT",
                             "leave an empty line before the first block");
            }
            if (!told) {
                input_.problems().add({"captions-header", Severity::warning, place_in_line(input_.name(), below.number, below.text, 0, below.text.size()),
                                       "the lines right below WEBVTT are passed over",
                                       "what describes the recording goes into a NOTE: an empty line, NOTE, then title: ..."});
            }
            told = true;
        }
        return true;
    }

    // The lines up to the next empty one.
    bool next_block(std::vector<TimedLine>& block) {
        block.clear();
        std::string_view line;
        while (lines_.next(line)) {
            if (!line.empty()) {
                block.push_back({lines_.number(), std::string(line)});
            } else if (!block.empty()) {
                return true;
            }
        }
        return !block.empty();
    }

    static bool starts_with_word(std::string_view text, std::string_view word) {
        return text.substr(0, word.size()) == word &&
               (text.size() == word.size() || text[word.size()] == ' ' || text[word.size()] == '\t');
    }

    void read_block(const std::vector<TimedLine>& block) {
        const std::string_view first = block.front().text;
        if (starts_with_word(first, "NOTE") && first.find(arrow) == std::string_view::npos) return note(block);
        if (starts_with_word(first, "STYLE") || starts_with_word(first, "REGION")) return;
        cue(block);
    }

    void note(const std::vector<TimedLine>& block) {
        for (const TimedLine& line : block) {
            std::string_view text = line.text;
            if (&line == &block.front()) text.remove_prefix(4);
            source_.note_line(text, place_in_line(input_.name(), line.number, line.text, 0, line.text.size()));
        }
    }

    void cue(const std::vector<TimedLine>& block) {
        const std::size_t timing = block.front().text.find(arrow) == std::string::npos ? 1 : 0;
        if (timing == block.size() || block[timing].text.find(arrow) == std::string::npos) {
            wrong(block.front(), 0, block.front().text.size(), "captions-no-times", "this block has no line with times",
                  "write for example 00:01:03.000 --> 00:01:09.500 above the words, or NOTE before a note");
            return;
        }
        Cue cue;
        cue.line = block[timing].number;
        if (!times(block[timing], cue)) return;
        std::string raw;
        for (std::size_t i = timing + 1; i < block.size(); ++i) {
            if (const std::size_t at = block[i].text.find(arrow); at != std::string::npos) {
                wrong(block[i], at, at + arrow.size(), "captions-arrow", "`-->` stands in the words of a cue",
                      "leave an empty line between cues");
                return;
            }
            if (!raw.empty()) raw += ' ';
            raw += block[i].text;
        }
        SpokenText spoken = webvtt_text(raw);
        cue.text = std::move(spoken.text);
        cue.speaker = std::move(spoken.speaker);
        const TimedLine& shown = block[std::min(timing + 1, block.size() - 1)];
        source_.cue(cue, place_in_line(input_.name(), shown.number, shown.text, 0, shown.text.size()));
    }

    bool times(const TimedLine& line, Cue& cue) {
        const std::string_view text = line.text;
        const std::size_t at = text.find(arrow);
        const std::string_view start = trim(text.substr(0, at));
        std::string_view rest = trim(text.substr(at + arrow.size()));
        const std::string_view end = rest.substr(0, rest.find_first_of(" \t"));
        if (!one_time(line, start, cue.start) || !one_time(line, end, cue.end)) return false;
        const auto begin = static_cast<std::size_t>(end.data() - text.data());
        if (cue.end <= cue.start) {
            return wrong(line, begin, begin + end.size(), "captions-end",
                         fmt::format("the cue ends at {}, which is not after its start at {}", end, start),
                         "put the later time second");
        }
        if (cue.start < last_start_) {
            return wrong(line, 0, start.size(), "captions-order",
                         fmt::format("the cue starts at {}, before the cue above it", start),
                         "sort the cues by their start");
        }
        last_start_ = cue.start;
        return true;
    }

    bool one_time(const TimedLine& line, std::string_view text, std::int64_t& time) {
        const auto read = webvtt_time(text);
        if (read) time = *read;
        const auto begin = static_cast<std::size_t>(text.data() - line.text.data());
        return read ||
               wrong(line, begin, begin + text.size(), "captions-time", fmt::format("\"{}\" is not a time", text),
                     "write [hours:]minutes:seconds.thousandths, for example 01:03.500");
    }

    TextInput& input_;
    LineInput lines_;
    TimedSource source_;
    std::int64_t last_start_ = 0;
};

}  // namespace

std::optional<std::int64_t> webvtt_time(std::string_view text) {
    std::int64_t hours = 0;
    std::int64_t minutes = 0;
    std::int64_t seconds = 0;
    std::int64_t thousandths = 0;
    const std::size_t first_colon = text.find(':');
    const bool with_hours =
        first_colon != std::string_view::npos && text.find(':', first_colon + 1) != std::string_view::npos;
    if (with_hours && (!read_digits(text, 2, 9, hours) || !read_sign(text, ':'))) return std::nullopt;
    if (!read_digits(text, 2, 2, minutes) || !read_sign(text, ':')) return std::nullopt;
    if (!read_digits(text, 2, 2, seconds) || !read_sign(text, '.')) return std::nullopt;
    if (!read_digits(text, 3, 3, thousandths) || !text.empty() || minutes > 59 || seconds > 59) return std::nullopt;
    return ((hours * 60 + minutes) * 60 + seconds) * 1000 + thousandths;
}

SpokenText webvtt_text(std::string_view text) {
    SpokenText spoken;
    bool tags = true;  // a `>` is still to come
    while (!text.empty()) {
        std::size_t close = std::string_view::npos;
        if (tags && text.front() == '<') {
            close = text.find('>');
            tags = close != std::string_view::npos;
        }
        if (close != std::string_view::npos) {
            const std::string_view tag = text.substr(1, close - 1);
            const std::size_t blank = tag.find_first_of(" \t");
            const std::string_view name = tag.substr(0, std::min(tag.find('.'), blank));
            if (name == "v" && blank != std::string_view::npos) {
                const std::string speaker = with_references(trim(tag.substr(blank)));
                if (spoken.speaker.empty() && trim(spoken.text).empty()) {
                    spoken.speaker = speaker;
                } else {
                    spoken.text += fmt::format(" {}: ", speaker);
                }
            }
            text.remove_prefix(close + 1);
            continue;
        }
        const std::size_t end = std::min(tags ? text.find('<', 1) : std::string_view::npos, text.size());
        spoken.text += with_references(text.substr(0, end));
        text.remove_prefix(end);
    }
    spoken.text = std::string(trim(spoken.text));
    return spoken;
}

void read_captions(TextInput& input, const ReadContext& context, Sink& sink, std::string default_source) {
    CaptionsReader(input, context, sink, std::move(default_source)).read();
}

}  // namespace saggar
