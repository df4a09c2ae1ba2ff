#include "queries/time_rules.h"

#include <fmt/format.h>

#include <algorithm>

#include "kg/model/fault.h"
#include "kg/model/nearest.h"
#include "kg/weigh/document_reader.h"

namespace saggar {

namespace {

using nlohmann::json;

bool is_among(const std::vector<std::string>& names, std::string_view name) {
    return std::find(names.begin(), names.end(), name) != names.end();
}

// Each function mirrors one part of the grammar at the top of the header.
class TimeRulesReader {
public:
    TimeRulesReader(const Vocabulary& vocabulary, const JsonDocument& document, Problems& problems)
        : vocabulary_(vocabulary), reader_(document, problems, "time-rules") {}

    std::optional<TimeRules> read() {
        const std::size_t errors_before = reader_.errors();
        reader_.only_fields(reader_.root(), "", {"points", "runs", "orders", "periods", "remark"});
        each("points", [this](const json& value, const std::string& pointer) { read_point(value, pointer); });
        each("runs", [this](const json& value, const std::string& pointer) { read_run(value, pointer); });
        each("orders", [this](const json& value, const std::string& pointer) { read_order(value, pointer); });
        each("periods", [this](const json& value, const std::string& pointer) { read_period(value, pointer); });
        if (reader_.errors() != errors_before) return std::nullopt;
        return std::move(rules_);
    }

private:
    template <class Visit>
    void each(const char* field, Visit visit) {
        const json* list = reader_.member(reader_.root(), "", field, json::value_t::array, "an array", false);
        if (!list) return;
        for (std::size_t i = 0; i < list->size(); ++i) {
            const std::string pointer = fmt::format("/{}/{}", field, i);
            if (reader_.is((*list)[i], json::value_t::object, pointer, "an object")) visit((*list)[i], pointer);
        }
    }

    std::vector<std::string> read_kinds(const json& value, const std::string& pointer) {
        std::vector<std::string> kinds;
        const json* list = reader_.member(value, pointer, "of", json::value_t::array, "an array of kinds", true);
        for (std::size_t i = 0; list && i < list->size(); ++i) {
            const std::string at = fmt::format("{}/of/{}", pointer, i);
            if (!reader_.is((*list)[i], json::value_t::string, at, "the name of a kind")) continue;
            kinds.push_back((*list)[i].get<std::string>());
            check_kind(kinds.back(), at);
        }
        return kinds;
    }

    void check_kind(const std::string& kind, const std::string& pointer) {
        if (vocabulary_.find_kind(kind)) return;
        reader_.at_value(
            "unknown-kind", pointer,
            fmt::format("unknown kind \"{}\"{}", kind, Vocabulary::suggestion(vocabulary_.nearest_kind(kind))),
            "use a kind of this vocabulary");
    }

    // Null with a problem where the vocabulary has no such relation.
    const Relation* check_relation(const std::string& name, const std::string& pointer) {
        const Relation* relation = vocabulary_.find_relation(name);
        if (!relation) {
            reader_.at_value("unknown-relation", pointer,
                             fmt::format("unknown relation \"{}\"{}", name,
                                         Vocabulary::suggestion(vocabulary_.nearest_relation(name))),
                             "use the name of a relation of this vocabulary; write ^ before it to walk it backwards");
        }
        return relation;
    }

    void read_point(const json& value, const std::string& pointer) {
        reader_.only_fields(value, pointer, {"point", "of", "from", "part", "label", "remark"});
        TimePointRule rule;
        rule.point = reader_.text(value, pointer, "point", true);
        rule.kinds = read_kinds(value, pointer);
        rule.relation = reader_.text(value, pointer, "from", true);
        rule.label = reader_.text(value, pointer, "label", false);
        if (rule.label.empty()) rule.label = rule.point;
        const std::string part = reader_.text(value, pointer, "part", false);
        if (part == "start") rule.part = DatePart::start;
        if (part == "end") rule.part = DatePart::end;
        if (!part.empty() && part != "start" && part != "end" && part != "whole") {
            reader_.at_value("bad-part", pointer + "/part", fmt::format("\"{}\" is no part of a date", part),
                             "write \"whole\", \"start\" or \"end\"");
        }
        const Relation* relation = rule.relation.empty() ? nullptr : check_relation(rule.relation, pointer + "/from");
        if (relation && !relation->to_date) {
            reader_.at_value("no-date", pointer + "/from",
                             fmt::format("the objects of \"{}\" are not dates", rule.relation),
                             "name a relation that leads to a date");
        }
        rules_.points.push_back(std::move(rule));
    }

    void check_point_of(const std::vector<std::string>& kinds, const std::string& point, const std::string& pointer) {
        for (const std::string& kind : kinds) {
            if (!is_among(rules_.points_of(kind), point)) fail_point(kind, point, pointer);
        }
    }
    void fail_point(const std::string& kind, const std::string& point, const std::string& pointer) {
        std::vector<std::string> known = rules_.points_of(kind);
        reader_.at_value(
            "unknown-point", pointer,
            fmt::format("things of kind \"{}\" have no point \"{}\"{}", kind, point,
                        Vocabulary::suggestion(nearest_word(point, known))),
            known.empty() ? "add the point under \"points\"" : fmt::format("use one of: {}", fmt::join(known, ", ")));
    }

    void read_run(const json& value, const std::string& pointer) {
        reader_.only_fields(value, pointer, {"of", "start", "end", "remark"});
        TimeRunRule rule;
        rule.kinds = read_kinds(value, pointer);
        rule.start = reader_.text(value, pointer, "start", true);
        rule.end = reader_.text(value, pointer, "end", true);
        check_point_of(rule.kinds, rule.start, pointer + "/start");
        check_point_of(rule.kinds, rule.end, pointer + "/end");
        rules_.runs.push_back(std::move(rule));
    }

    TimePointName read_point_name(const json& value, const std::string& pointer, const char* field, bool any_kind) {
        const std::string text = reader_.text(value, pointer, field, true);
        const std::string at = fmt::format("{}/{}", pointer, field);
        const auto dot = text.find('.');
        if (text.empty()) return {};
        if (dot == std::string::npos) {
            reader_.at_value("bad-point", at, fmt::format("\"{}\" does not name a point", text),
                             "write the kind, a full stop and the point, as in \"piece.made\"");
            return {};
        }
        TimePointName name{text.substr(0, dot), text.substr(dot + 1)};
        if (name.kind != "*") {
            if (!vocabulary_.find_kind(name.kind)) {
                check_kind(name.kind, at);
            } else if (!is_among(rules_.points_of(name.kind), name.point)) {
                fail_point(name.kind, name.point, at);
            }
        } else if (!any_kind) {
            reader_.at_value("bad-point", at, "\"*\" stands only in an order between points of one thing",
                             "name the kind, or leave \"via\" out");
        }
        return name;
    }

    TimePath read_path(const json& value, const std::string& pointer, const char* field, bool required) {
        const std::string text = reader_.text(value, pointer, field, required);
        TimePath path;
        for (std::size_t begin = 0; !text.empty() && begin <= text.size();) {
            const std::size_t end = std::min(text.find('/', begin), text.size());
            const bool backwards = begin < end && text[begin] == '^';
            const std::string relation = text.substr(begin + (backwards ? 1 : 0), end - begin - (backwards ? 1 : 0));
            if (check_relation(relation, fmt::format("{}/{}", pointer, field))) path.push_back({relation, backwards});
            begin = end + 1;
        }
        return path;
    }

    int read_slack(const json& value, const std::string& pointer) {
        const double months = reader_.number(value, pointer, "slack-months", 0, 1200, false, 0);
        if (months != static_cast<int>(months)) {
            reader_.at_value("bad-slack", pointer + "/slack-months", "slack is counted in whole months",
                             "write a whole number");
        }
        return static_cast<int>(months);
    }

    void read_order(const json& value, const std::string& pointer) {
        reader_.only_fields(value, pointer, {"earlier", "later", "via", "slack-months", "label", "remark"});
        TimeOrderRule rule;
        rule.via = read_path(value, pointer, "via", false);
        rule.earlier = read_point_name(value, pointer, "earlier", rule.via.empty());
        rule.later = read_point_name(value, pointer, "later", rule.via.empty());
        rule.slack_months = read_slack(value, pointer);
        rule.label = reader_.text(value, pointer, "label", true);
        if (rule.via.empty() && rule.earlier.kind != rule.later.kind) {
            reader_.at_value("bad-order", pointer, "without \"via\" both points belong to one thing",
                             "add \"via\", or use one kind");
        }
        rules_.orders.push_back(std::move(rule));
    }

    void read_period(const json& value, const std::string& pointer) {
        reader_.only_fields(value, pointer,
                            {"point", "via", "relation", "object-via", "slack-months", "label", "remark"});
        TimePeriodRule rule;
        rule.point = read_point_name(value, pointer, "point", false);
        rule.via = read_path(value, pointer, "via", true);
        rule.relation = reader_.text(value, pointer, "relation", true);
        if (!rule.relation.empty()) check_relation(rule.relation, pointer + "/relation");
        rule.object_via = read_path(value, pointer, "object-via", false);
        rule.slack_months = read_slack(value, pointer);
        rule.label = reader_.text(value, pointer, "label", true);
        rules_.periods.push_back(std::move(rule));
    }

    const Vocabulary& vocabulary_;
    DocumentReader reader_;
    TimeRules rules_;
};

}  // namespace

std::optional<TimeRules> TimeRules::parse(const Vocabulary& vocabulary, Problems& problems, std::string_view file) {
    const auto document = JsonDocument::read(vocabulary.time_document(), file, problems);
    if (!document) return std::nullopt;
    return TimeRulesReader(vocabulary, *document, problems).read();
}

TimeRules TimeRules::of(const Vocabulary& vocabulary) {
    Problems problems;
    auto rules = parse(vocabulary, problems);
    if (rules) return std::move(*rules);
    const Problem& first = problems.list().front();
    throw UsageFault("the time rules of the vocabulary are not sound: " + first.message, first.next_step);
}

std::vector<std::string> TimeRules::points_of(std::string_view kind) const {
    std::vector<std::string> names;
    for (const TimePointRule& rule : points) {
        if (is_among(rule.kinds, kind) && !is_among(names, rule.point)) names.push_back(rule.point);
    }
    return names;
}

const TimeRunRule* TimeRules::run_of(std::string_view kind) const {
    const auto found =
        std::find_if(runs.begin(), runs.end(), [&](const TimeRunRule& rule) { return is_among(rule.kinds, kind); });
    return found == runs.end() ? nullptr : &*found;
}

std::string TimeRules::label_of(std::string_view kind, std::string_view point) const {
    for (const TimePointRule& rule : points) {
        if (rule.point == point && is_among(rule.kinds, kind)) return rule.label;
    }
    return std::string(point);
}

const TimeOrderRule& same_thing_rule() {
    static const TimeOrderRule rule = {{"*", ""}, {"*", ""}, {}, 0, "two names of one thing"};
    return rule;
}

std::int64_t days_of_slack(int months) { return (std::int64_t{months} * 36525 + 1199) / 1200; }

}  // namespace saggar
