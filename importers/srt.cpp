#include "importers/srt.h"

#include <fmt/format.h>

#include <vector>

#include "importers/line_input.h"
#include "importers/words.h"
#include "kg/model/key.h"

namespace saggar {
namespace {

constexpr std::string_view srt_arrow = "-->";

class SrtReader {
public:
    SrtReader(TextInput& input, const ReadContext& context, Sink& sink, std::string default_source)
        : input_(input),
          lines_(input),
          source_(input.name(), context, sink, input.problems(), std::move(default_source)) {}

    void read() {
        bool first = true;
        for (std::vector<TimedLine> block; next_block(block); first = false) {
            if (first && is_note(block)) {
                for (const TimedLine& line : block) source_.note_line(line.text, place(line));
            } else {
                cue(block);
            }
        }
        source_.settle(Place{input_.name(), 1, 0, "", 0});
    }

private:
    Place place(const TimedLine& line) const {
        return place_in_line(input_.name(), line.number, line.text, 0, line.text.size());
    }

    bool wrong(const TimedLine& line, std::string_view part, std::string id, std::string message, std::string next) {
        const auto begin = static_cast<std::size_t>(part.data() - line.text.data());
        input_.problems().add({std::move(id), Severity::error,
                               place_in_line(input_.name(), line.number, line.text, begin, begin + part.size()),
                               std::move(message), std::move(next)});
        return false;
    }

    bool next_block(std::vector<TimedLine>& block) {
        block.clear();
        std::string_view line;
        while (lines_.next(line)) {
            if (!trim(line).empty()) {
                block.push_back({lines_.number(), std::string(line)});
            } else if (!block.empty()) {
                return true;
            }
        }
        return !block.empty();
    }

    static bool is_note(const std::vector<TimedLine>& block) {
        for (const TimedLine& line : block) {
            if (line.text.find(srt_arrow) != std::string::npos) return false;
        }
        return block.front().text.find(':') != std::string::npos;
    }

    void cue(const std::vector<TimedLine>& block) {
        const std::size_t timing = block.front().text.find(srt_arrow) == std::string::npos ? 1 : 0;
        if (timing == block.size() || block[timing].text.find(srt_arrow) == std::string::npos) {
            wrong(block.front(), block.front().text, "captions-no-times", "this block has no line with times",
                  "write for example 00:01:03,000 --> 00:01:09,500 above the words");
            return;
        }
        Cue cue;
        cue.line = block[timing].number;
        if (!times(block[timing], cue)) return;
        std::string raw;
        for (std::size_t i = timing + 1; i < block.size(); ++i) {
            const std::size_t arrow = block[i].text.find(srt_arrow);
            if (arrow != std::string::npos) {
                wrong(block[i], std::string_view(block[i].text).substr(arrow, srt_arrow.size()), "captions-arrow",
                      "`-->` stands in the words of a cue", "leave an empty line between cues");
                return;
            }
            if (!raw.empty()) raw += ' ';
            raw += block[i].text;
        }
        cue.text = srt_text(raw);
        source_.cue(cue, place(block[std::min(timing + 1, block.size() - 1)]));
    }

    bool times(const TimedLine& line, Cue& cue) {
        const std::string_view text = line.text;
        const std::size_t at = text.find(srt_arrow);
        const std::string_view start = trim(text.substr(0, at));
        const std::string_view rest = trim(text.substr(at + srt_arrow.size()));
        const std::string_view end = rest.substr(0, rest.find_first_of(" \t"));
        for (const auto& [word, time] : {std::pair(start, &cue.start), std::pair(end, &cue.end)}) {
            const auto read = srt_time(word);
            if (!read) {
                return wrong(line, word, "captions-time", fmt::format("\"{}\" is not a time", word),
                             "write hours:minutes:seconds,thousandths, for example 00:01:03,500");
            }
            *time = *read;
        }
        if (cue.end > cue.start) return true;
        return wrong(line, end, "captions-end",
                     fmt::format("the cue ends at {}, which is not after its start at {}", end, start),
                     "put the later time second");
    }

    TextInput& input_;
    LineInput lines_;
    TimedSource source_;
};

bool is_srt_tag(std::string_view tag) {
    if (!tag.empty() && tag.front() == '/') tag.remove_prefix(1);
    const std::string name = fold(tag.substr(0, tag.find(' ')));
    return name == "b" || name == "i" || name == "u" || name == "s" || name == "font";
}

}  // namespace

std::optional<std::int64_t> srt_time(std::string_view text) {
    std::int64_t parts[4] = {};
    constexpr std::string_view separators[] = {":", ":", ",."};
    for (std::size_t part = 0; part < 4; ++part) {
        std::size_t digits = 0;
        while (digits < text.size() && text[digits] >= '0' && text[digits] <= '9') ++digits;
        const std::size_t wanted = part == 0 ? 0 : part == 3 ? 3 : 2;
        if (digits == 0 || digits > 9 || (wanted && digits != wanted)) return std::nullopt;
        for (std::size_t i = 0; i < digits; ++i) parts[part] = parts[part] * 10 + (text[i] - '0');
        text.remove_prefix(digits);
        if (part == 3) break;
        if (text.empty() || separators[part].find(text.front()) == std::string_view::npos) return std::nullopt;
        text.remove_prefix(1);
    }
    if (!text.empty() || parts[1] > 59 || parts[2] > 59) return std::nullopt;
    return ((parts[0] * 60 + parts[1]) * 60 + parts[2]) * 1000 + parts[3];
}

std::string srt_text(std::string_view text) {
    std::string out;
    std::size_t last_close = text.rfind('>');
    std::size_t last_brace = text.rfind('}');
    for (std::size_t at = 0; at < text.size();) {
        const bool angle = text[at] == '<' && last_close != std::string_view::npos && at < last_close;
        const bool brace = text[at] == '{' && at + 1 < text.size() && text[at + 1] == '\\' &&
                           last_brace != std::string_view::npos && at < last_brace;
        if (angle || brace) {
            const std::size_t close = text.find(angle ? '>' : '}', at);
            if (brace || is_srt_tag(text.substr(at + 1, std::min<std::size_t>(close - at - 1, 200)))) {
                at = close + 1;
                continue;
            }
        }
        out += text[at++];
    }
    return std::string(trim(out));
}

void read_srt(TextInput& input, const ReadContext& context, Sink& sink, std::string default_source) {
    SrtReader(input, context, sink, std::move(default_source)).read();
}

}  // namespace saggar
