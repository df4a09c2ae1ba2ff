#include "queries/dating_years.h"

#include <algorithm>
#include <map>

#include "kg/weigh/profile.h"
#include "queries/date_chains.h"

namespace saggar {

namespace {

std::int64_t year_of(std::int64_t day) { return time::civil_of(time::Day{day}).year; }
std::int64_t first_day_of(std::int64_t year) { return time::day_of({year, 1, 1}).count; }
std::int64_t last_day_of(std::int64_t year) { return time::day_of({year, 12, 31}).count; }

Chain united(const std::vector<ClaimRef>& a, const std::vector<ClaimRef>& b) {
    Chain claims;
    std::set_union(a.begin(), a.end(), b.begin(), b.end(), std::back_inserter(claims));
    return claims;
}

class YearWeigher {
public:
    YearWeigher(Weigher& weigher, const DateConstraints& constraints, time::TimePoint start, time::TimePoint end,
                const DatingYearsOptions& options)
        : weigher_(weigher),
          its_(constraints),
          start_(start),
          starts_after_(chains_of(constraints, start, true, options.most_chains)),
          starts_by_(chains_of(constraints, start, false, options.most_chains)),
          ends_from_(chains_of(constraints, end, true, options.most_chains)),
          ends_before_(chains_of(constraints, end, false, options.most_chains)),
          options_(options) {}

    DatingYears weigh() {
        answer_.profile = weigher_.profile().title();
        for (const DateChains* chains : {&starts_after_, &starts_by_, &ends_from_, &ends_before_}) {
            answer_.complete = answer_.complete && chains->complete;
        }
        answer_.open_before = starts_after_.chains.empty();
        answer_.open_after = ends_before_.chains.empty();
        if (answer_.open_before && answer_.open_after) return answer_;
        find_contradictions();
        answer_.contradiction = probability({});
        const auto [first, last] = range_of_years();
        for (std::int64_t year = first; year <= last; ++year) answer_.years.push_back(figures_of(year));
        return answer_;
    }

private:
    // Chains of the same point, or of the beginning and the end, that leave no day between them.
    void find_contradictions() {
        const auto add = [this](const DateChains& lower, const DateChains& upper) {
            for (const DateChain& a : lower.chains) {
                for (const DateChain& b : upper.chains) {
                    if (a.bound > b.bound) contradictions_.push_back(united(a.claims, b.claims));
                }
            }
        };
        add(starts_after_, starts_by_);
        add(starts_after_, ends_before_);
        add(ends_from_, ends_before_);
        contradictions_ = smallest(std::move(contradictions_));
    }

    // Without chains that hold another chain: they add nothing to "at least one holds".
    static std::vector<Chain> smallest(std::vector<Chain> chains) {
        std::sort(chains.begin(), chains.end(),
                  [](const Chain& a, const Chain& b) { return a.size() != b.size() ? a.size() < b.size() : a < b; });
        std::vector<Chain> kept;
        for (Chain& chain : chains) {
            const bool spared = std::any_of(kept.begin(), kept.end(), [&](const Chain& small) {
                return std::includes(chain.begin(), chain.end(), small.begin(), small.end());
            });
            if (!spared) kept.push_back(std::move(chain));
        }
        return kept;
    }

    // P(one of the chains holds, or the dates contradict each other). Equal questions are asked once.
    double probability(std::vector<Chain> chains) {
        chains.insert(chains.end(), contradictions_.begin(), contradictions_.end());
        chains = smallest(std::move(chains));
        if (chains.empty()) return 0;
        if (chains.front().empty()) return 1;  // no claim is needed: it always holds
        const auto known = known_.find(chains);
        if (known != known_.end()) return known->second;
        WeighOptions options;
        options.explain = false;
        options.rivals = false;  // dates that exclude each other are contradictions of this question itself
        const JointWeight joint = weigher_.joint(chains, options);
        if (joint.method == Method::sampled) {
            answer_.method = Method::sampled;
            answer_.half_width = std::max(answer_.half_width, joint.half_width);
        }
        known_.emplace(std::move(chains), joint.uncontested);
        return joint.uncontested;
    }

    double given_consistent(const std::vector<Chain>& chains) {
        const double consistent = 1 - answer_.contradiction;
        if (!(consistent > 0)) return 0;
        return std::clamp((probability(chains) - answer_.contradiction) / consistent, 0.0, 1.0);
    }

    DatingYear figures_of(std::int64_t year) {
        std::vector<Chain> excluded;
        for (const DateChain& chain : starts_after_.chains) {
            if (chain.bound > last_day_of(year)) excluded.push_back(chain.claims);
        }
        for (const DateChain& chain : ends_before_.chains) {
            if (chain.bound < first_day_of(year)) excluded.push_back(chain.claims);
        }
        for (const DatePeriod& period : its_.periods) {
            if (period.point == start_ && !is_covered(period, year)) excluded.push_back(period.claims());
        }
        std::vector<Chain> pinned;
        for (const DateChain& begun : starts_by_.chains) {
            if (begun.bound > last_day_of(year)) continue;
            for (const DateChain& ended : ends_from_.chains) {
                if (ended.bound >= first_day_of(year)) pinned.push_back(united(begun.claims, ended.claims));
            }
        }
        DatingYear figures{year, 1 - given_consistent(excluded), given_consistent(pinned)};
        figures.supported = std::min(figures.supported, figures.possible);  // sampled figures may cross
        return figures;
    }

    static bool is_covered(const DatePeriod& period, std::int64_t year) {
        return std::any_of(period.stints.begin(), period.stints.end(), [year](const DateStint& stint) {
            return stint.first <= last_day_of(year) && stint.last >= first_day_of(year);
        });
    }

    // One year beyond the loosest bounds; ten beyond the outermost date where a side is open.
    std::pair<std::int64_t, std::int64_t> range_of_years() const {
        std::int64_t first = INT64_MAX;
        std::int64_t last = INT64_MIN;
        for (const DateChains* chains : {&starts_after_, &starts_by_, &ends_from_, &ends_before_}) {
            for (const DateChain& chain : chains->chains) {
                first = std::min(first, year_of(chain.bound));
                last = std::max(last, year_of(chain.bound));
            }
        }
        first -= answer_.open_before ? 10 : 1;
        last += answer_.open_after ? 10 : 1;
        const auto most = static_cast<std::int64_t>(options_.most_years);
        if (last - first >= most) last = first + most - 1;
        return {first, last};
    }

    Weigher& weigher_;
    const DateConstraints& its_;
    time::TimePoint start_;
    DateChains starts_after_, starts_by_, ends_from_, ends_before_;
    DatingYearsOptions options_;
    std::vector<Chain> contradictions_;
    std::map<std::vector<Chain>, double> known_;
    DatingYears answer_;
};

}  // namespace

DatingYears date_years(const Snapshot& snapshot, Weigher& weigher, const TimeRules& rules,
                       const DatingQuestion& question, const DatingYearsOptions& options) {
    const TimeRunRule* run = rules.run_of(snapshot.kind_of(question.thing));
    if (!run) return {};
    DateReach reach;
    reach.conventions = question.conventions;
    reach.conventions.about = weigher.profile().about_years;
    reach.with_private = question.with_private;
    reach.most_points = question.most_points;
    const DateConstraints constraints = date_constraints(snapshot, rules, question.thing, reach);
    YearWeigher years(weigher, constraints, constraints.asked.at(run->start), constraints.asked.at(run->end), options);
    return years.weigh();
}

}  // namespace saggar
