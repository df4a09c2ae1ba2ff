#include "kg/weigh/grounds.h"

#include <algorithm>
#include <set>
#include <string>

namespace saggar {

namespace {

using weighing::Event;

constexpr std::size_t exact_enough = 20'000;  // nodes; a ground has few chances
constexpr std::size_t most_combinations = 200;

// A reading, or the step of an argument.
struct Atom {
    bool is_step = false;
    CaseIndex number = 0;    // reading, or claim of the argument
    std::size_t argument = 0;
    auto operator<=>(const Atom&) const = default;
};
using AtomSet = std::vector<Atom>;  // sorted

struct RankedSet {
    AtomSet atoms;
    double probability = 0;
};

AtomSet united(const AtomSet& a, const AtomSet& b) {
    AtomSet both;
    std::set_union(a.begin(), a.end(), b.begin(), b.end(), std::back_inserter(both));
    return both;
}

class GroundFinder {
public:
    explicit GroundFinder(Question& question)
        : question_(question), case_(question.its_case()), in_favour_(case_.claims.size()) {
        chances_ = Chances(case_, {}).of(question.lineage().terms());
        for (const auto& group : groups_by_support(case_)) {
            for (std::size_t round = 0; round < group.size(); ++round) {  // a circle needs as many rounds as members
                for (const CaseIndex claim : group) in_favour_[claim] = best(ways(claim, false));
            }
        }
    }

    std::vector<RankedSet> in_favour(CaseIndex claim) const { return in_favour_[claim]; }
    std::vector<RankedSet> against(CaseIndex claim) { return best(ways(claim, true)); }

private:
    // All sets found for one side of a claim, not yet ranked.
    std::vector<AtomSet> ways(CaseIndex claim, bool against) {
        std::vector<AtomSet> found;
        add_readings(claim, against, found);
        const auto& arguments = case_.claims[claim].arguments;
        for (std::size_t i = 0; i < arguments.size(); ++i) {
            if (arguments[i].against != against) continue;
            AtomSet start;
            if (!arguments[i].id.empty()) start.push_back({true, claim, i});
            add_products(start, arguments[i].premises, found);
        }
        if (!against) return found;
        for (const CaseRival& rival : case_.claims[claim].rivals) {
            std::vector<CaseIndex> needed{rival.claim};
            needed.insert(needed.end(), rival.identities.begin(), rival.identities.end());
            add_products({}, needed, found);
        }
        return found;
    }

    void add_readings(CaseIndex claim, bool against, std::vector<AtomSet>& found) {
        ReadingEvents& readings = question_.lineage().readings();
        std::set<Event> seen;
        for (const CaseIndex index : case_.claims[claim].readings) {
            const CaseReading& reading = case_.readings[index];
            if (reading.against != against || reading.no_basis || readings.adds_nothing(index)) continue;
            if (seen.insert(readings.counted(index)).second) found.push_back({Atom{false, index, 0}});
        }
    }

    // One set for each choice of a ground for every premise.
    void add_products(const AtomSet& start, const std::vector<CaseIndex>& premises, std::vector<AtomSet>& found) {
        std::vector<AtomSet> products{start};
        for (const CaseIndex premise : premises) {
            std::vector<AtomSet> next;
            for (const AtomSet& product : products) {
                for (const RankedSet& ground : in_favour_[premise]) {
                    if (next.size() < most_combinations) next.push_back(united(product, ground.atoms));
                }
            }
            products = std::move(next);
        }
        found.insert(found.end(), products.begin(), products.end());
    }

    std::vector<RankedSet> best(std::vector<AtomSet> sets) {
        std::sort(sets.begin(), sets.end(), [](const AtomSet& a, const AtomSet& b) {
            return a.size() != b.size() ? a.size() < b.size() : a < b;
        });
        std::vector<RankedSet> kept;
        for (AtomSet& atoms : sets) {
            const bool covered = std::any_of(kept.begin(), kept.end(), [&](const RankedSet& smaller) {
                return std::includes(atoms.begin(), atoms.end(), smaller.atoms.begin(), smaller.atoms.end());
            });
            if (covered) continue;
            const double p = probability(atoms);
            if (p > 0) kept.push_back({std::move(atoms), p});
        }
        std::stable_sort(kept.begin(), kept.end(), [](const RankedSet& a, const RankedSet& b) { return a.probability > b.probability; });
        if (kept.size() > most_grounds) kept.resize(most_grounds);
        return kept;
    }

    double probability(const AtomSet& atoms) {
        std::vector<Event> events;
        for (const Atom& atom : atoms) {
            events.push_back(atom.is_step ? question_.lineage().step(atom.number, atom.argument)
                                          : question_.lineage().readings().counted(atom.number));
        }
        auto& lineage = question_.lineage().lineage();
        const Event root[] = {lineage.all_of(events)};
        const auto& terms = question_.lineage().terms();
        if (terms.size() != chances_.size()) chances_ = Chances(case_, {}).of(terms);
        const weighing::Figures figures(lineage, root, exact_enough);
        return figures.exact() ? figures.values(chances_)[0] : 0;
    }

    Question& question_;
    const Case& case_;
    std::vector<double> chances_;
    std::vector<std::vector<RankedSet>> in_favour_;  // by claim
};

Ground to_ground(const Case& question, const RankedSet& set) {
    Ground ground;
    ground.probability = set.probability;
    for (const Atom& atom : set.atoms) {
        if (atom.is_step) {
            ground.arguments.push_back(question.claims[atom.number].arguments[atom.argument].id);
        } else {
            const CaseReading& reading = question.readings[atom.number];
            (reading.is_list ? ground.listings : ground.evidence).push_back(reading.id);
        }
    }
    for (auto* const ids : {&ground.evidence, &ground.listings, &ground.arguments}) {
        std::sort(ids->begin(), ids->end());
        ids->erase(std::unique(ids->begin(), ids->end()), ids->end());
    }
    return ground;
}

// Collects the claims whose support counts for one side of a claim.
std::vector<CaseIndex> supporting_claims(const Case& question, std::vector<CaseIndex> start) {
    std::set<CaseIndex> seen(start.begin(), start.end());
    for (std::size_t i = 0; i < start.size(); ++i) {  // grows as it goes
        for (const CaseArgument& argument : question.claims[start[i]].arguments) {
            if (argument.against) continue;
            for (const CaseIndex premise : argument.premises) {
                if (seen.insert(premise).second) start.push_back(premise);
            }
        }
    }
    return start;
}

}  // namespace

Grounds grounds_of(Question& question) {
    GroundFinder finder(question);
    Grounds grounds;
    for (const RankedSet& set : finder.in_favour(0)) grounds.in_favour.push_back(to_ground(question.its_case(), set));
    for (const RankedSet& set : finder.against(0)) grounds.against.push_back(to_ground(question.its_case(), set));
    return grounds;
}

std::size_t roots_behind(Question& question, CaseIndex claim, bool against) {
    const Case& its = question.its_case();
    std::set<std::string> roots;
    const auto add = [&](CaseIndex of, bool side) {
        for (const CaseIndex index : its.claims[of].readings) {
            const CaseReading& reading = its.readings[index];
            if (reading.against != side || reading.no_basis || !reading.taken_back_by.empty()) continue;
            const CaseIndex root = question.lineage().readings().root_source(index);
            const CaseIndex family = its.family_of[root];
            const bool one = family != Case::no_family && its.families[family].dependence >= 1;
            roots.insert(one ? "family " + its.families[family].name : "source " + its.sources[root].key);
        }
    };
    std::vector<CaseIndex> behind;
    if (against) {
        add(claim, true);
        for (const CaseArgument& argument : its.claims[claim].arguments) {
            if (argument.against) behind.insert(behind.end(), argument.premises.begin(), argument.premises.end());
        }
        for (const CaseRival& rival : its.claims[claim].rivals) behind.push_back(rival.claim);
    } else {
        behind.push_back(claim);
    }
    for (const CaseIndex one : supporting_claims(its, behind)) add(one, false);
    return roots.size();
}

}  // namespace saggar
