// A run of numbered notes: the first mention of a source in full, later ones short.
#pragma once

#include <map>
#include <string>
#include <tuple>
#include <vector>

#include "queries/cite.h"

namespace saggar {

// One source of a note that cites several: words before and after it ("see", ", and passim").
struct NotePart {
    Source source;
    std::string at, prefix, suffix;
    bool without_author = false;  // the text names the author
};

// Notes in order of first use; equal mentions (same source, place and words) share a number. Not thread-safe.
class Notes {
public:
    explicit Notes(CiteStyle style = {}) : style_(style) {}

    // The number of the note, from 1.
    int number_of(const Source& source, const std::string& at, const std::string& quote);
    // A note of several sources, with ";" between them, beginning with a capital.
    int number_of(const std::vector<NotePart>& parts);
    // In order of number.
    const std::vector<CitedText>& texts() const { return texts_; }
    // Every source mentioned, in bibliography order.
    std::vector<Source> bibliography() const;

private:
    CitedText part_note(const NotePart& part);

    CiteStyle style_;
    std::map<std::tuple<std::string, std::string, std::string>, int> numbers_;
    std::map<std::string, int> joint_numbers_;  // by the words of the note
    std::map<std::string, Source> sources_;  // by key
    std::string last_source_;
    std::vector<CitedText> texts_;
};

}  // namespace saggar
