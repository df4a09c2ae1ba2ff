// Reads a profile document. Each function mirrors one part of the grammar at the top of profile.h.
#include <fmt/format.h>

#include <algorithm>

#include "kg/model/vocabulary.h"
#include "kg/weigh/document_reader.h"
#include "kg/weigh/profile.h"

namespace saggar {

class ProfileReader {
public:
    using json = nlohmann::json;

    ProfileReader(const JsonDocument& document, Problems& problems) : in_(document, problems, "profile") {}

    std::optional<Profile> read(std::string_view text) {
        const std::size_t errors_before = in_.errors();
        const json& root = in_.root();
        if (!in_.is(root, json::value_t::object, "", "an object")) return std::nullopt;
        in_.only_fields(root, "", {"profile", "version", "remark", "grades", "types", "unstated-type", "hedges", "families",
                                   "unstated-family", "within-source", "indirect", "about-years", "words",
                                   "contradiction", "budget", "supported", "identify"});
        profile_.document_ = std::string(text);
        profile_.name = in_.text(root, "", "profile", true);
        profile_.version = in_.text(root, "", "version", true);
        profile_.remark = in_.text(root, "", "remark", false);
        read_grades(root);
        read_types(root);
        read_hedges(root);
        read_families(root);
        profile_.within_source = in_.number(root, "", "within-source", 0, 1, true);
        profile_.indirect = in_.number(root, "", "indirect", 0, 1, true);
        profile_.about_years = static_cast<int>(whole(root, "", "about-years", 0, 100));
        read_words(root);
        read_contradiction(root);
        read_budget(root);
        read_identifying(root);
        if (in_.errors() != errors_before) return std::nullopt;
        return std::move(profile_);
    }

private:
    const json* object(const json& parent, const std::string& pointer, const char* field) {
        return in_.member(parent, pointer, field, json::value_t::object, "an object", true);
    }

    std::size_t whole(const json& parent, const std::string& pointer, const char* field, double least, double most) {
        const double number = in_.number(parent, pointer, field, least, most, true, least);
        if (number != static_cast<double>(static_cast<std::size_t>(number))) {
            in_.at_value("not-whole", JsonDocument::child(pointer, field), fmt::format("{} is not a whole number", number),
                         "write a whole number");
        }
        return static_cast<std::size_t>(number);
    }

    // Complains unless `name` is that of one of `known`.
    template <class T>
    void must_be_known(const std::vector<T>& known, const std::string& name, const std::string& pointer, const char* id,
                       const char* what, const std::optional<std::string>& nearest) {
        if (name.empty() || std::any_of(known.begin(), known.end(), [&](const T& one) { return one.name == name; })) return;
        in_.at_value(id, pointer, fmt::format("\"{}\" is not a {} of this profile{}", name, what, Vocabulary::suggestion(nearest)),
                     fmt::format("add it under \"{}s\", or mend the name", what));
    }

    void read_grades(const json& root) {
        const json* const grades = object(root, "", "grades");
        if (!grades) return;
        for (const auto& item : grades->items()) {  // nlohmann keeps members sorted by name
            const std::string pointer = JsonDocument::child("/grades", item.key());
            if (!in_.is(item.value(), json::value_t::object, pointer, "an object")) continue;
            in_.only_fields(item.value(), pointer, {"label", "cap", "reliability", "no-basis", "remark"});
            Grade grade;
            grade.name = item.key();
            grade.label = in_.text(item.value(), pointer, "label", true);
            grade.remark = in_.text(item.value(), pointer, "remark", false);
            if (in_.flag(item.value(), pointer, "no-basis")) {
                if (item.value().contains("cap") || item.value().contains("reliability")) {
                    in_.at_key("grade-no-basis", pointer, "a grade without basis has no cap and no reliability",
                               "leave out either \"no-basis\" or the numbers");
                }
            } else {
                read_grade_numbers(item.value(), pointer, grade);
            }
            profile_.grades.push_back(std::move(grade));
        }
    }

    void read_grade_numbers(const json& value, const std::string& pointer, Grade& grade) {
        grade.cap = in_.number(value, pointer, "cap", 0, 1, true, 1);
        grade.reliability = in_.number(value, pointer, "reliability", 0, 1, true);
        if (grade.cap >= 1 && value.contains("cap") && value["cap"].is_number()) {
            in_.at_value("grade-cap", JsonDocument::child(pointer, "cap"), "no source is beyond doubt: a cap is below 1",
                         "write a number below 1, for example .98");
        }
        if (*grade.reliability > grade.cap) {
            in_.at_value("grade-cap", JsonDocument::child(pointer, "reliability"),
                         fmt::format("{} is more than the cap {}", *grade.reliability, grade.cap),
                         "lower the reliability or raise the cap");
        }
    }

    void read_types(const json& root) {
        if (const json* const types = object(root, "", "types")) {
            for (const auto& item : types->items()) {
                const std::string pointer = JsonDocument::child("/types", item.key());
                if (!in_.is(item.value(), json::value_t::object, pointer, "an object")) continue;
                in_.only_fields(item.value(), pointer, {"label", "grade", "remark"});
                SourceType type;
                type.name = item.key();
                type.label = in_.text(item.value(), pointer, "label", true);
                type.grade = in_.text(item.value(), pointer, "grade", true);
                type.remark = in_.text(item.value(), pointer, "remark", false);
                must_be_grade(type.grade, JsonDocument::child(pointer, "grade"));
                profile_.types.push_back(std::move(type));
            }
        }
        profile_.unstated_type = in_.text(root, "", "unstated-type", true);
        must_be_grade(profile_.unstated_type, "/unstated-type");
    }

    void must_be_grade(const std::string& name, const std::string& pointer) {
        must_be_known(profile_.grades, name, pointer, "unknown-grade", "grade", profile_.nearest_grade(name));
    }

    void read_hedges(const json& root) {
        const json* const hedges = object(root, "", "hedges");
        if (!hedges) return;
        for (const auto& item : hedges->items()) {
            const std::string pointer = JsonDocument::child("/hedges", item.key());
            if (!in_.number_within(item.value(), pointer, 0, 1)) continue;
            const std::string words = folded_hedge(item.key());
            const bool twice = std::any_of(profile_.hedges.begin(), profile_.hedges.end(),
                                           [&](const Hedge& hedge) { return hedge.words == words; });
            if (words.empty() || twice || read_chance(words)) {
                in_.at_key("bad-hedge", pointer, fmt::format("\"{}\" cannot be a hedge: empty, a number, or there already", item.key()),
                           "write the hedge as words, once");
                continue;
            }
            profile_.hedges.push_back({words, item.value().get<double>()});
        }
        std::sort(profile_.hedges.begin(), profile_.hedges.end(),
                  [](const Hedge& a, const Hedge& b) { return a.words < b.words; });
    }

    void read_families(const json& root) {
        if (const json* const families = object(root, "", "families")) {
            for (const auto& item : families->items()) {
                const std::string pointer = JsonDocument::child("/families", item.key());
                if (!in_.is(item.value(), json::value_t::object, pointer, "an object")) continue;
                in_.only_fields(item.value(), pointer, {"label", "dependence", "unknown", "remark"});
                FamilyKind kind;
                kind.name = item.key();
                kind.label = in_.text(item.value(), pointer, "label", true);
                kind.dependence = in_.number(item.value(), pointer, "dependence", 0, 1, true);
                kind.unknown = in_.flag(item.value(), pointer, "unknown");
                kind.remark = in_.text(item.value(), pointer, "remark", false);
                profile_.families.push_back(std::move(kind));
            }
        }
        profile_.unstated_family = in_.text(root, "", "unstated-family", true);
        if (!profile_.unstated_family.empty() && !profile_.find_family(profile_.unstated_family)) {
            in_.at_value("unknown-family", "/unstated-family",
                         fmt::format("\"{}\" is not a family kind of this profile{}", profile_.unstated_family,
                                     Vocabulary::suggestion(profile_.nearest_family(profile_.unstated_family))),
                         "add it under \"families\", or mend the name");
        }
    }

    void read_words(const json& root) {
        const json* const words = object(root, "", "words");
        if (!words) return;
        in_.only_fields(*words, "/words", {"scale", "scales"});
        profile_.scale = in_.text(*words, "/words", "scale", true);
        const json* const scales = object(*words, "/words", "scales");
        if (!scales) return;
        for (const auto& item : scales->items()) read_scale(item.key(), item.value());
        must_be_known(profile_.scales, profile_.scale, "/words/scale", "unknown-scale", "scale", std::nullopt);
    }

    void read_scale(const std::string& name, const json& value) {
        const std::string pointer = JsonDocument::child("/words/scales", name);
        if (!in_.is(value, json::value_t::object, pointer, "an object")) return;
        in_.only_fields(value, pointer, {"source", "bands"});
        WordScale scale;
        scale.name = name;
        scale.source = in_.text(value, pointer, "source", true);
        const json* const bands = in_.member(value, pointer, "bands", json::value_t::array, "an array of bands", true);
        if (!bands) return;
        for (std::size_t i = 0; i < bands->size(); ++i) {
            const std::string at = fmt::format("{}/bands/{}", pointer, i);
            const json& one = (*bands)[i];
            if (!in_.is(one, json::value_t::object, at, "an object")) return;
            in_.only_fields(one, at, {"from", "words"});
            WordBand band;
            band.from = in_.number(one, at, "from", 0, 1, true);
            band.words = in_.text(one, at, "words", true);
            if (i == 0 ? band.from != 0 : band.from <= scale.bands.back().from) {
                in_.at_value("word-bands", at, "the bands must begin at 0 and go up", "sort the bands by \"from\", the first one 0");
                return;
            }
            scale.bands.push_back(std::move(band));
        }
        if (scale.bands.empty()) in_.at_value("word-bands", pointer + "/bands", "there are no bands", "add at least one band from 0");
        profile_.scales.push_back(std::move(scale));
    }

    void read_contradiction(const json& root) {
        const json* const bands = object(root, "", "contradiction");
        if (!bands) return;
        in_.only_fields(*bands, "/contradiction", {"contested", "contradictory", "no-figure"});
        profile_.contested_from = in_.number(*bands, "/contradiction", "contested", 0, 1, true);
        profile_.contradictory_from = in_.number(*bands, "/contradiction", "contradictory", 0, 1, true);
        profile_.no_figure_from = in_.number(*bands, "/contradiction", "no-figure", 0, 1, true, 1);
        if (profile_.contested_from > profile_.contradictory_from || profile_.contradictory_from > profile_.no_figure_from) {
            in_.at_value("contradiction-order", "/contradiction", "the three limits must go up",
                         "let contested <= contradictory <= no-figure");
        }
    }

    void read_budget(const json& root) {
        const json* const budget = object(root, "", "budget");
        if (!budget) return;
        const std::string at = "/budget";
        in_.only_fields(*budget, at, {"nodes", "nodes-on-request", "half-width", "worlds", "least-worlds"});
        profile_.nodes = whole(*budget, at, "nodes", 0, 1e8);
        profile_.nodes_on_request = whole(*budget, at, "nodes-on-request", 0, 1e8);
        profile_.half_width = in_.number(*budget, at, "half-width", .0005, .2, true, .01);
        profile_.most_worlds = whole(*budget, at, "worlds", 1'024, 1e9);
        profile_.least_worlds = whole(*budget, at, "least-worlds", 1, 1e9);
    }

    // What an older document does not say, the built-in one does.
    void read_identifying(const json& root) {
        if (root.contains("supported")) profile_.supported = in_.number(root, "", "supported", 0.5, 1, true);
        if (!root.contains("identify")) {
            profile_.identifying = Profile::standard().identifying;
            return;
        }
        const json* const part = object(root, "", "identify");
        if (!part) return;
        const std::string at = "/identify";
        in_.only_fields(*part, at, {"unknown", "mistaken", "shown", "shown-otherwise"});
        Identifying& its = profile_.identifying;
        its.unknown = in_.number(*part, at, "unknown", 0, 1, true);
        its.mistaken = in_.number(*part, at, "mistaken", 0, 1, true);
        its.shown_otherwise = in_.number(*part, at, "shown-otherwise", 0, 1, true);
        const json* const shown = in_.member(*part, at, "shown", json::value_t::object, "an object", true);
        if (!shown) return;
        for (const auto& item : shown->items()) {  // nlohmann keeps members sorted by name
            if (in_.number_within(item.value(), JsonDocument::child(at + "/shown", item.key()), 0, 1))
                its.shown.emplace_back(item.key(), item.value().get<double>());
        }
    }

    DocumentReader in_;
    Profile profile_;
};

std::optional<Profile> Profile::parse(std::string_view text, Problems& problems, std::string_view file) {
    const std::optional<JsonDocument> document = JsonDocument::read(text, file, problems);
    if (!document) return std::nullopt;
    return ProfileReader(*document, problems).read(text);
}

}  // namespace saggar
