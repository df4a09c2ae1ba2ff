#include "kg/weigh/profile.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <stdexcept>

#include "embedded/default_profile.h"
#include "kg/model/nearest.h"

namespace saggar {

namespace {

template <class T>
const T* find_named(const std::vector<T>& all, std::string_view name) {
    const auto found = std::lower_bound(all.begin(), all.end(), name, [](const T& a, std::string_view b) { return a.name < b; });
    return found != all.end() && found->name == name ? &*found : nullptr;
}

template <class T>
std::optional<std::string> nearest_named(const std::vector<T>& all, std::string_view name) {
    std::vector<std::string> names;
    for (const T& one : all) names.push_back(one.name);
    return nearest_word(name, names);
}

bool is_profile_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

}  // namespace

std::string folded_hedge(std::string_view text) {
    std::string folded;
    for (const char c : text) {
        if (is_profile_blank(c)) {
            if (!folded.empty() && folded.back() != ' ') folded += ' ';
        } else {
            folded += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
        }
    }
    if (!folded.empty() && folded.back() == ' ') folded.pop_back();
    return folded;
}

std::optional<double> read_chance(std::string_view text) {
    while (!text.empty() && is_profile_blank(text.front())) text.remove_prefix(1);
    while (!text.empty() && is_profile_blank(text.back())) text.remove_suffix(1);
    if (text.empty() || (text.front() != '.' && (text.front() < '0' || text.front() > '9'))) return std::nullopt;
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size() || !(value >= 0 && value <= 1)) return std::nullopt;
    return value;
}

const std::string& WordScale::words_for(double probability) const {
    const auto above = std::upper_bound(bands.begin(), bands.end(), probability,
                                        [](double p, const WordBand& band) { return p < band.from; });
    return above == bands.begin() ? bands.front().words : std::prev(above)->words;
}

const Profile& Profile::standard() {
    static const Profile profile = [] {
        Problems problems;
        auto read = parse(embedded::default_profile, problems, "kg/weigh/profile.json");
        if (!read) throw std::logic_error("the built-in profile is faulty: " + to_text(problems.list().front()));
        return *std::move(read);
    }();
    return profile;
}

std::string Profile::title() const { return fmt::format("{} version {}", name, version); }

const Grade* Profile::find_grade(std::string_view grade_name) const { return find_named(grades, grade_name); }
const SourceType* Profile::find_type(std::string_view type_name) const { return find_named(types, type_name); }
const FamilyKind* Profile::find_family(std::string_view kind_name) const { return find_named(families, kind_name); }
const WordScale& Profile::words() const { return *find_named(scales, scale); }

std::optional<double> Profile::certainty_of(std::string_view text) const {
    const std::string folded = folded_hedge(text);
    if (folded.empty()) return 1;
    if (const auto number = read_chance(folded)) return number;
    for (const Hedge& hedge : hedges) {
        if (hedge.words == folded) return hedge.certainty;
    }
    return std::nullopt;
}

std::optional<std::string> Profile::nearest_grade(std::string_view grade_name) const { return nearest_named(grades, grade_name); }
std::optional<std::string> Profile::nearest_family(std::string_view kind_name) const {
    return nearest_named(families, kind_name);
}
std::optional<std::string> Profile::nearest_hedge(std::string_view text) const {
    std::vector<std::string> words;
    for (const Hedge& hedge : hedges) words.push_back(hedge.words);
    return nearest_word(folded_hedge(text), words);
}

double Identifying::chance_shown(std::string_view relation) const {
    for (const auto& [name, chance] : shown)
        if (name == relation) return chance;
    return shown_otherwise;
}

}  // namespace saggar
