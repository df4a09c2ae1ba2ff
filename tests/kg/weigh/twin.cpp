#include "tests/kg/weigh/twin.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <vector>

namespace saggar::testing {

namespace {

constexpr double usual_within = .5, usual_indirect = .5;

// Draws by name; replays the decisions of the world before up to the one that is turned over.
class Worlds {
public:
    bool holds(const std::string& name, double chance) {
        if (chance >= 1) return true;
        if (chance <= 0) return false;
        const auto known = drawn_.find(name);
        if (known != drawn_.end()) return known->second;
        if (next_ == decisions_.size()) decisions_.push_back(true);
        const bool outcome = decisions_[next_++];
        probability_ *= outcome ? chance : 1 - chance;
        return drawn_[name] = outcome;
    }
    void begin() {
        drawn_.clear();
        next_ = 0;
        probability_ = 1;
    }
    // False: there is no further world.
    bool turn_over() {
        while (!decisions_.empty() && !decisions_.back()) decisions_.pop_back();
        if (decisions_.empty()) return false;
        decisions_.back() = false;
        return true;
    }
    double probability() const { return probability_; }

private:
    std::map<std::string, bool> drawn_;
    std::vector<bool> decisions_;
    std::size_t next_ = 0;
    double probability_ = 1;
};

class Player {
public:
    Player(const RandomGraph& graph, Worlds& worlds) : graph_(graph), worlds_(worlds) {}

    struct Outcome {
        bool supported = false, refuted = false, contradiction = false;
    };
    Outcome play(int asked) {
        std::vector<bool> supported(graph_.claims.size(), false);
        for (std::size_t round = 0; round <= graph_.claims.size(); ++round) {
            for (std::size_t c = 0; c < supported.size(); ++c) supported[c] = supported[c] || supports(static_cast<int>(c), supported);
        }
        Outcome outcome;
        for (const int c : question(asked)) {
            const bool refuted = refutes(c, supported);
            outcome.contradiction = outcome.contradiction || (supported[static_cast<std::size_t>(c)] && refuted);
            if (c == asked) outcome.refuted = refuted;
        }
        outcome.supported = supported[static_cast<std::size_t>(asked)];
        return outcome;
    }

private:
    bool is_modeller(int claim) const { return graph_.claims[static_cast<std::size_t>(claim)]; }
    const RandomReading& reading(int index) const { return graph_.readings[static_cast<std::size_t>(index)]; }
    const RandomSource& source(int index) const { return graph_.sources[static_cast<std::size_t>(index)]; }

    // The claims of the question: rivals and premises of rivals and premises ...
    std::set<int> question(int asked) const {
        std::set<int> all{asked};
        for (std::size_t before = 0; before != all.size();) {
            before = all.size();
            for (const int c : std::set<int>(all)) {
                for (std::size_t other = 0; is_modeller(c) && other < graph_.claims.size(); ++other) {
                    if (graph_.claims[other]) all.insert(static_cast<int>(other));
                }
                for (const RandomArgument& argument : graph_.arguments) {
                    if (argument.conclusion == c) all.insert(argument.premises.begin(), argument.premises.end());
                }
            }
        }
        return all;
    }

    // --- what a reading says -------------------------------------------------------------------------------------
    bool counts_against(int index) const {
        const RandomReading& it = reading(index);
        const bool said_against = it.against || it.mention.has_value();
        return it.certainty < .5 ? !said_against : said_against;
    }
    double share(int index) const {
        const RandomReading& it = reading(index);
        return std::abs(2 * it.certainty - 1) * (it.indirect ? usual_indirect : 1) * it.mention.value_or(1);
    }

    // --- soundness -----------------------------------------------------------------------------------------------
    double family_phi(int family) const {
        double most = 0;
        for (const RandomSource& one : graph_.sources) {
            if (one.family == family) most = std::max(most, one.reliability);
        }
        return 1 - graph_.family_dependence[family] * (1 - most);
    }
    double source_phi(int index) const {
        const double phi = 1 - source(index).within.value_or(usual_within) * (1 - source(index).reliability);
        return source(index).family < 0 ? phi : std::min(phi, family_phi(source(index).family));
    }
    bool sound(int index) {
        double bound = 1;
        if (source(index).family >= 0) {
            bound = family_phi(source(index).family);
            if (!worlds_.holds(fmt::format("family {}", source(index).family), bound)) return false;
        }
        return worlds_.holds(fmt::format("source {}", index), source_phi(index) / bound);
    }
    double given_sound(int index, double part) const { return part * source(index).reliability / source_phi(index); }

    // --- readings and lists of one source on one side of one claim -------------------------------------------------
    bool list_excludes(int list, int claim) const {
        const RandomList& it = graph_.lists[static_cast<std::size_t>(list)];
        if (it.of_modellers != is_modeller(claim)) return false;
        for (const RandomReading& one : graph_.readings) {
            if (one.claim == claim && one.source == it.source && !one.against && !one.mention) return false;
        }
        return true;
    }
    bool says(int source_index, int claim, bool against) const {
        for (std::size_t i = 0; i < graph_.readings.size(); ++i) {
            const int r = static_cast<int>(i);
            if (reading(r).source == source_index && reading(r).claim == claim && counts_against(r) == against && share(r) > 0) return true;
        }
        for (std::size_t i = 0; against && i < graph_.lists.size(); ++i) {
            if (graph_.lists[i].source == source_index && list_excludes(static_cast<int>(i), claim)) return true;
        }
        return false;
    }
    bool any_counts(int source_index, int claim, bool against) {
        bool any = false;
        for (std::size_t i = 0; i < graph_.readings.size(); ++i) {
            const int r = static_cast<int>(i);
            if (reading(r).source == source_index && reading(r).claim == claim && counts_against(r) == against) any = counts(r) || any;
        }
        for (std::size_t i = 0; against && i < graph_.lists.size(); ++i) {
            const int l = static_cast<int>(i);
            if (graph_.lists[i].source == source_index && list_excludes(l, claim)) any = list_good(l, claim) || any;
        }
        return any;
    }

    // A statement of a source that may be a copy; `own` plays the source's own reading, `part` is what the copy carries.
    template <class Own>
    bool perhaps_copied(int source_index, int claim, bool against, const std::string& what, double part, Own own) {
        const int root = source(source_index).copy_of;
        if (root < 0 || (!says(root, claim, against) && says(root, claim, !against))) return own();
        if (!worlds_.holds(fmt::format("copied {}", source_index), source(source_index).copied)) return own();
        const bool root_good = says(root, claim, against) ? any_counts(root, claim, against) : unentered_good(root, claim, against);
        return worlds_.holds(fmt::format("faithful {}", what), source(source_index).fidelity * part) && root_good;
    }
    bool unentered_good(int source_index, int claim, bool against) {
        const std::string what = fmt::format("unentered {} {} {}", source_index, claim, against);
        return perhaps_copied(source_index, claim, against, what, 1,
                              [&] { return sound(source_index) && worlds_.holds(what, given_sound(source_index, 1)); });
    }
    bool good(int index) {
        const RandomReading& it = reading(index);
        if (share(index) <= 0) return false;
        const auto own = [&] {
            return sound(it.source) && worlds_.holds(fmt::format("read {}", index), given_sound(it.source, share(index)));
        };
        if (it.corrects >= 0) return own();  // whoever takes a reading back speaks for himself
        return perhaps_copied(it.source, it.claim, counts_against(index), fmt::format("reading {}", index), share(index), own);
    }
    bool list_good(int index, int claim) {
        const RandomList& it = graph_.lists[static_cast<std::size_t>(index)];
        return perhaps_copied(it.source, claim, true, fmt::format("list {} {}", index, claim), it.completeness, [&] {
            return sound(it.source) && worlds_.holds(fmt::format("list read {}", index), given_sound(it.source, 1)) &&
                   worlds_.holds(fmt::format("complete {} {}", index, claim), it.completeness);
        });
    }
    // Good, and neither the readings that take it back nor those that take them back are good.
    bool counts(int index) {
        std::set<int> later{index};
        for (std::size_t i = 0; i < graph_.readings.size(); ++i) {  // corrections come later in the list
            if (later.count(graph_.readings[i].corrects)) later.insert(static_cast<int>(i));
        }
        later.erase(index);
        for (const int one : later) {
            if (good(one)) return false;
        }
        return good(index);
    }

    // --- claims --------------------------------------------------------------------------------------------------
    bool argued(int claim, bool against, const std::vector<bool>& supported) {
        for (std::size_t i = 0; i < graph_.arguments.size(); ++i) {
            const RandomArgument& it = graph_.arguments[i];
            if (it.conclusion != claim || it.against != against) continue;
            const bool premises = std::all_of(it.premises.begin(), it.premises.end(),
                                              [&](int premise) { return supported[static_cast<std::size_t>(premise)]; });
            if (premises && worlds_.holds(fmt::format("step {}", i), it.strength)) return true;
        }
        return false;
    }
    bool read_of(int claim, bool against) {
        for (int s = 0; s < static_cast<int>(graph_.sources.size()); ++s) {
            if (says(s, claim, against) && any_counts(s, claim, against)) return true;
        }
        return false;
    }
    bool supports(int claim, const std::vector<bool>& supported) { return read_of(claim, false) || argued(claim, false, supported); }
    bool refutes(int claim, const std::vector<bool>& supported) {
        if (read_of(claim, true) || argued(claim, true, supported)) return true;
        for (std::size_t other = 0; is_modeller(claim) && other < graph_.claims.size(); ++other) {
            if (graph_.claims[other] && static_cast<int>(other) != claim && supported[other]) return true;
        }
        return false;
    }

    const RandomGraph& graph_;
    Worlds& worlds_;
};

}  // namespace

std::optional<TwinAnswer> play_all_worlds(const RandomGraph& graph, int claim, std::size_t most_worlds) {
    Worlds worlds;
    TwinAnswer answer;
    answer.masses = {0, 0, 0, 0};
    do {
        if (++answer.worlds > most_worlds) return std::nullopt;
        worlds.begin();
        const auto outcome = Player(graph, worlds).play(claim);
        const double p = worlds.probability();
        (outcome.contradiction ? answer.masses.both
         : outcome.supported   ? answer.masses.for_only
         : outcome.refuted     ? answer.masses.against_only
                               : answer.masses.neither) += p;
        answer.raw += outcome.supported ? p : 0;
    } while (worlds.turn_over());
    return answer;
}

}  // namespace saggar::testing
