#include "tests/app/twin_records.h"

#include <fmt/format.h>

#include <algorithm>

#include "kg/model/content_id.h"

namespace saggar::testing {
namespace {

constexpr int people = 4, sources = 7;

// Another day for each n, so that nobody rules twice on one day.
std::string day_of(int n) { return fmt::format("{}-{:02}-{:02}", 2000 + n / 336, 1 + n / 28 % 12, 1 + n % 28); }

}  // namespace

std::vector<Source> all_sources() {
    std::vector<Source> all;
    for (int i = 0; i < sources; ++i) {
        Source source;
        source.key = "source:s" + std::to_string(i);
        source.reliability = .45 + .07 * i;
        if (i < 3) source.family = "house";
        if (i < 3) source.family_kind = "circle";
        if (i == 6) source.copied_from = {{"source:s5", .8, .9}};
        all.push_back(source);
    }
    return all;
}

Claim some_claim(int n) {
    Claim claim;
    claim.subject = "shape:g" + std::to_string(n % twin_shapes);
    claim.relation = n % 2 ? "modelled-by" : "designed-by";
    claim.object = {Value::Type::entity, "person:p" + std::to_string(n / 2 % people), ""};
    return claim;
}

Evidence some_reading(int n, const std::string& by) {
    Evidence evidence;
    evidence.claim = id_of(some_claim(n % 24));
    evidence.source = "source:s" + std::to_string(n % sources);
    evidence.stance = n % 4 == 3 ? Stance::against : Stance::in_favour;
    evidence.at = "page=" + std::to_string(n / 24 % 3);
    if (n % 5 == 0) evidence.certainty = "probably";
    if (n % 7 == 0) evidence.quote = "words of " + std::to_string(n);
    evidence.recorded_by = by;
    return evidence;
}

std::vector<Record> some_dated(int n, const std::string& by) {
    Claim claim;
    claim.subject = "shape:g" + std::to_string(n % twin_shapes);
    claim.relation = n / twin_shapes % 2 ? "introduced-in" : "dropped-in";
    claim.object = {Value::Type::date, std::to_string(1930 + n % 11), ""};
    Evidence evidence;
    evidence.claim = id_of(claim);
    evidence.source = "source:s" + std::to_string(n % sources);
    evidence.at = "page=9";
    evidence.recorded_by = by;
    return {claim, evidence};
}

Argument some_argument(int n) {
    Argument argument;
    argument.premises = {id_of(some_claim(n % 24)), id_of(some_claim((n + 5) % 24))};
    std::sort(argument.premises.begin(), argument.premises.end());
    argument.premises.erase(std::unique(argument.premises.begin(), argument.premises.end()), argument.premises.end());
    argument.conclusion = id_of(some_claim((n + 7) % 24));
    argument.strength = .6;
    argument.reason = "who designs often models";
    return argument;
}

Ruling some_ruling(int n) {
    static constexpr Ruling::Decision decisions[] = {Ruling::Decision::accepted, Ruling::Decision::rejected, Ruling::Decision::left_open};
    return {id_of(some_claim(n % 24)), decisions[n % 3], "weighed " + std::to_string(n % 5), {}, n % 2 ? "ann" : "bea", day_of(n / 2), false};
}

std::vector<Record> some_identity(int n) {
    const int one = n % people, other = (one + 1 + n / 4 % (people - 1)) % people;
    Claim claim;
    claim.subject = "person:p" + std::to_string(std::min(one, other));
    claim.relation = "same-as";
    claim.object = {Value::Type::entity, "person:p" + std::to_string(std::max(one, other)), ""};
    Evidence evidence;
    evidence.claim = id_of(claim);
    evidence.source = "source:s" + std::to_string(n % sources);
    const Ruling ruling{id_of(claim), n % 3 ? Ruling::Decision::accepted : Ruling::Decision::rejected, "hands", {}, n % 2 ? "ann" : "bea", day_of(n / 2), false};
    return {claim, evidence, ruling};
}

}  // namespace saggar::testing
