// The time rules of the vocabulary: which claims date which points of a thing, and which points cannot come before which.
//
// The "time" part of the vocabulary document, so that a user adds rules without code:
//
//   {"points":  [{"point": NAME, "of": [KIND...], "from": RELATION, "part": "whole" | "start" | "end", "label": TEXT}...],
//    "runs":    [{"of": [KIND...], "start": NAME, "end": NAME}...],
//    "orders":  [{"earlier": KIND.NAME, "later": KIND.NAME, "via": PATH, "slack-months": 0..1200, "label": TEXT}...],
//    "periods": [{"point": KIND.NAME, "via": PATH, "relation": RELATION, "object-via": PATH, "slack-months": 0..1200,
//                 "label": TEXT}...]}
//
// A point is a moment in the life of things of these kinds; claims of the relation, whose objects are dates, say when it was
// ("whole"), or when a run began or ended ("start", "end": the two ends of the date). A run names the points between
// which a thing was there or in use.
// An order says that the earlier point comes no later than the later one, give or take the slack. PATH leads from the
// later thing to the earlier: relations joined by "/", "^" before one that is walked from object to subject, as in the property paths of
// SPARQL 1.1; no PATH: points of one thing. KIND is "*" in an order without PATH: every kind that has both points.
// A period says that the point lies in one of the times for which claims of the relation hold: their subject is reached by
// "via", their object (where "object-via" is given) by that path. It takes the times on record to be all there were.
// Slack is a convention of the vocabulary; a month counts as a twelfth of 365.25 days.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "kg/model/problem.h"
#include "kg/model/vocabulary.h"

namespace saggar {

enum class DatePart : std::uint8_t { whole, start, end };

struct TimePointRule {
    std::string point;
    std::vector<std::string> kinds;
    std::string relation;
    DatePart part = DatePart::whole;
    std::string label;  // "was introduced"; the name where none is given
};

struct TimeRunRule {
    std::vector<std::string> kinds;
    std::string start;
    std::string end;
};

struct TimePathStep {
    std::string relation;
    bool backwards = false;
};
using TimePath = std::vector<TimePathStep>;

// "piece.made"; kind "*": any.
struct TimePointName {
    std::string kind;
    std::string point;
    bool is_of(std::string_view thing_kind) const { return kind == "*" || kind == thing_kind; }
    bool operator==(const TimePointName&) const = default;
};

struct TimeOrderRule {
    TimePointName earlier;
    TimePointName later;
    TimePath via;  // from the later thing to the earlier; empty: the same thing
    int slack_months = 0;
    std::string label;
};

struct TimePeriodRule {
    TimePointName point;
    TimePath via;
    std::string relation;
    TimePath object_via;  // empty: any object
    int slack_months = 0;
    std::string label;
};

// A value; threads may share one.
struct TimeRules {
    std::vector<TimePointRule> points;
    std::vector<TimeRunRule> runs;
    std::vector<TimeOrderRule> orders;
    std::vector<TimePeriodRule> periods;

    // Reads the "time" part of a vocabulary. Nothing where an error was found; names of kinds, relations and points are
    // checked. `file` is the name shown in problems.
    static std::optional<TimeRules> parse(const Vocabulary& vocabulary, Problems& problems,
                                          std::string_view file = "vocabulary");
    // The same; UsageFault with the first problem where the rules are not sound.
    static TimeRules of(const Vocabulary& vocabulary);

    // The names of the points that things of a kind have, in the order of the document, each once.
    std::vector<std::string> points_of(std::string_view kind) const;
    const TimeRunRule* run_of(std::string_view kind) const;
    // "was introduced" for a point of a kind.
    std::string label_of(std::string_view kind, std::string_view point) const;
};

// The order between the same points of two names of one thing. It is nobody's rule: it follows from the identity.
const TimeOrderRule& same_thing_rule();

// Days of slack: months as twelfths of 365.25 days, rounded up.
std::int64_t days_of_slack(int months);

}  // namespace saggar
