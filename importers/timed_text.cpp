#include "importers/timed_text.h"

#include <fmt/format.h>

#include <filesystem>

#include "importers/thing_rows.h"
#include "importers/words.h"
#include "kg/model/key.h"

namespace saggar {

std::string seconds_text(std::int64_t milliseconds) {
    std::string text = fmt::format("{}.{:03}", milliseconds / 1000, milliseconds % 1000);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
}

std::string time_fragment(std::int64_t start, std::int64_t end) {
    return fmt::format("t={},{}", seconds_text(start), seconds_text(end));
}

TimedSource::TimedSource(const std::string& file, const ReadContext& context, Sink& sink, Problems& problems,
                         std::string default_source)
    : sink_(sink),
      problems_(problems),
      mentions_(context, sink, problems),
      default_source_(std::move(default_source)),
      file_stem_(std::filesystem::path(file).stem().string()) {}

void TimedSource::note_line(std::string_view line, const Place& place) {
    const std::size_t colon = line.find(':');
    if (settled_ || colon == std::string_view::npos) return;
    const std::string column = fold(trim(line.substr(0, colon)));
    const std::string_view value = trim(line.substr(colon + 1));
    places_.set(column, place);
    places_.set_whole(place);
    const FieldPlaces& origin = places_;
    if (column == "source") {
        if (auto key = read_source_key(value, "source", origin, problems_)) source_.key = std::move(*key);
    } else if (column == "private") {
        source_.is_private = read_yes(value, "private", origin, problems_).value_or(false);
        described_ = true;
    } else if (is_source_column(column)) {
        described_ = set_source_field(source_, column, value, origin, problems_) || described_;
    }
}

void TimedSource::settle(const Place& place) {
    if (settled_) return;
    settled_ = true;
    if (source_.key.empty()) source_.key = default_source_;
    if (source_.key.empty()) {
        const std::string slug = slugify(file_stem_);
        source_.key = "source:" + (slug.empty() ? std::string("captions") : slug);
        if (source_.title.empty()) source_.title = file_stem_;
        described_ = true;
    }
    if (places_.line() == 0) places_.set_whole(place);
    if (described_) sink_.put(source_, places_);
}

void TimedSource::cue(const Cue& cue, const Place& place) {
    settle(place);
    const auto links = links_in_text(cue.text);
    std::string quote = without_links(cue.text, links);
    if (!cue.speaker.empty()) quote = fmt::format("{}: {}", cue.speaker, quote);
    for (const TextLink& link : links) {
        mentions_.put(source_.key, link.key, quote, time_fragment(cue.start, cue.end), PlainOrigin(place));
    }
}

}  // namespace saggar
