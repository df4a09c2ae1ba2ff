#include "app/text/comparing.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

namespace saggar::app {
namespace {

constexpr std::size_t most_rows = 8;        // of a relation, where all are compared
constexpr std::size_t most_groups = 8;      // of the concepts
constexpr std::size_t most_features = 6;    // named of one
constexpr std::size_t most_named_unspoken = 5;

std::string in_words(const std::vector<std::string>& parts) {
    std::string text;
    for (std::size_t i = 0; i < parts.size(); ++i)
        text += (i == 0 ? "" : i + 1 == parts.size() ? " and " : ", ") + parts[i];
    return text;
}

class ComparisonWriter {
public:
    ComparisonWriter(Call& call, const Snapshot& graph, const CompareAnswer& answer, std::size_t most, bool all_rows, NoteList& notes)
        : call_(call), graph_(graph), answer_(answer), most_(most), all_rows_(all_rows), notes_(notes) {
        std::map<std::string, int> used;
        for (const NamedThing& thing : answer.things) ++used[graph.label_of(thing.id)];
        for (const NamedThing& thing : answer.things) {
            const std::string label = graph.label_of(thing.id);
            names_.push_back(used[label] > 1 ? label + " (" + graph.key_of(thing.id) + ")" : label);
        }
    }

    void write() {
        line(call_.layout.strong(in_words(names_) + " compared"), 0);
        for (const NamedThing& thing : answer_.things) {
            std::vector<std::string> others;
            for (std::size_t i = 1; i < thing.names.size(); ++i) others.push_back(graph_.key_of(thing.names[i]));
            if (!others.empty()) line(graph_.label_of(thing.id) + " is also " + in_words(others) + ", by an accepted identity", 4);
        }
        if (names_.size() > 2 && !answer_.relations.empty()) {
            std::string columns;
            for (std::size_t i = 0; i < names_.size(); ++i) columns += (i == 0 ? "" : ", ") + fmt::format("{} {}", i + 1, names_[i]);
            line("columns: " + columns, 4);
            line("+ has, - never (and that is on record), x disputed, ~ too little is known, . not known", 4);
        }
        for (const ComparedRelation& relation : answer_.relations) write(relation);
        if (answer_.relations.empty()) line("nothing is on record that could be compared", 4);
        if (!answer_.concepts.found.empty()) write_concepts();
        write_rest();
    }

private:
    using Pattern = std::vector<Standing>;

    void line(const std::string& text, std::size_t indent) {
        *call_.out << std::string(indent, ' ') << wrap(text, call_.layout.width, indent + 2) << '\n';
    }

    std::vector<std::string> standing(const Pattern& pattern, Standing which) const {
        std::vector<std::string> found;
        for (std::size_t i = 0; i < pattern.size(); ++i)
            if (pattern[i] == which) found.push_back(names_[i]);
        return found;
    }

    static Pattern pattern_of(const ComparedObject& object) {
        Pattern pattern;
        for (const Cell& cell : object.cells) pattern.push_back(cell.standing == Standing::limited ? Standing::has : cell.standing);
        return pattern;
    }

    // Of two things.
    std::string heading(const Pattern& pattern) const {
        const auto has = standing(pattern, Standing::has), never = standing(pattern, Standing::never);
        const std::size_t all = pattern.size();
        if (has.size() == all) return "both";
        if (never.size() == all) return "neither, and that is on record";
        std::string text;
        const auto add = [&text](const std::string& part) { text += (text.empty() ? "" : "; ") + part; };
        if (!has.empty()) add((has.size() + never.size() == all ? "only " : "") + in_words(has));
        if (!never.empty()) add("never " + in_words(never));
        if (const auto some = standing(pattern, Standing::disputed); !some.empty()) add("disputed of " + in_words(some));
        if (const auto some = standing(pattern, Standing::weak); !some.empty()) add("too little is known of " + in_words(some));
        if (const auto some = standing(pattern, Standing::unknown); !some.empty())
            add("not known of " + in_words(some));
        return text;
    }

    using Row = std::pair<const Pattern, std::vector<const ComparedObject*>>;

    // Of many rows the telling ones: shared by all, had by none, in dispute, of one thing alone; then the longest.
    static int rank(const Pattern& pattern) {
        const auto count = [&pattern](Standing which) {
            return static_cast<std::size_t>(std::count(pattern.begin(), pattern.end(), which));
        };
        if (count(Standing::has) == pattern.size() || count(Standing::never) == pattern.size()) return 0;
        if (count(Standing::disputed) > 0) return 1;
        return count(Standing::has) == 1 && count(Standing::never) + 1 == pattern.size() ? 2 : 3;
    }

    void write(const ComparedRelation& relation) {
        line(call_.layout.strong(relation.label) + (relation.label == relation.name ? "" : "  " + call_.layout.faint(relation.name)), 0);
        std::map<Pattern, std::vector<const ComparedObject*>> groups;
        for (const ComparedObject& object : relation.objects) groups[pattern_of(object)].push_back(&object);
        std::vector<const Row*> rows;
        for (const Row& row : groups) rows.push_back(&row);
        std::size_t passed = 0;
        if (!all_rows_ && rows.size() > most_rows) {
            std::stable_sort(rows.begin(), rows.end(), [](const Row* a, const Row* b) {
                const int of_a = rank(a->first), of_b = rank(b->first);
                return of_a != of_b ? of_a < of_b : a->second.size() > b->second.size();
            });
            std::size_t kept = most_rows;
            while (kept < rows.size() && kept < 2 * most_rows && rank(rows[kept]->first) < 3) ++kept;
            for (std::size_t i = kept; i < rows.size(); ++i) passed += rows[i]->second.size();
            rows.resize(kept);
        }
        std::stable_sort(rows.begin(), rows.end(), [](const Row* a, const Row* b) {
            for (const Standing which : {Standing::has, Standing::never, Standing::disputed}) {
                const auto of_a = std::count(a->first.begin(), a->first.end(), which);
                const auto of_b = std::count(b->first.begin(), b->first.end(), which);
                if (of_a != of_b) return of_a > of_b;
            }
            return a->first < b->first;
        });
        for (const Row* row : rows) write(*row);
        if (passed > 0)
            line(fmt::format("{} more in rows of their own; see them with --relation {}", passed, relation.name), 4);
        write_unspoken(relation);
    }

    // Two things in words; of more each row of signs says it.
    void write(const Row& row) {
        std::string objects;
        std::size_t named = 0;
        for (const ComparedObject* object : row.second) {
            if (named == most_) break;
            objects += (named++ == 0 ? "" : "; ") + words(*object);
        }
        if (named < row.second.size()) objects += fmt::format("; and {} more", row.second.size() - named);
        if (names_.size() == 2) {
            line(heading(row.first) + ":", 4);
            line(objects, 8);
            return;
        }
        std::string signs;
        for (const Standing standing : row.first) signs += std::string(signs.empty() ? "" : " ") + sign(standing);
        *call_.out << "    " << signs << "  " << wrap(objects, call_.layout.width, 4 + signs.size() + 2) << '\n';
    }

    static char sign(Standing standing) {
        switch (standing) {
            case Standing::has:
            case Standing::limited: return '+';
            case Standing::never: return '-';
            case Standing::disputed: return 'x';
            case Standing::weak: return '~';
            case Standing::unknown: return '.';
        }
        return '?';
    }

    std::string words(const ComparedObject& object) {
        std::string text = object.label + (object.flagged ? "!" : "");
            std::vector<std::string> remarks;
        for (std::size_t i = 0; i < object.cells.size(); ++i) {
            const Cell& cell = object.cells[i];
            std::string remark;
            if (cell.standing == Standing::limited || (cell.standing == Standing::has && !cell.limits.empty())) remark = cell.limits;
            if (cell.by_ruling) remark += (remark.empty() ? "" : ", ") + std::string("by ruling");
            if (cell.masses && (cell.standing == Standing::disputed || cell.standing == Standing::weak)) {
                remark = fmt::format("support {}, possibility {}", figure_text(cell.masses->support().value_or(0), 0),
                                     figure_text(cell.masses->possibility().value_or(0), 0));
                if (!cell.limits.empty()) remark = cell.limits + ", " + remark;
            }
            if (!remark.empty()) remarks.push_back(names_[i] + ": " + remark);
        }
        if (!remarks.empty()) text += " (" + fmt::format("{}", fmt::join(remarks, "; ")) + ")";
        return text + marks(object);
    }

    // The strongest source of each cell and side; among equals one that is cited already.
    std::string marks(const ComparedObject& object) {
        std::set<int> in_favour, against;
        for (const Cell& cell : object.cells) {
            const bool both = cell.standing == Standing::disputed || cell.standing == Standing::weak;
            if (both || cell.counts() || cell.by_ruling) cite(cell.cited_for, both ? 2 : 1, in_favour);
            if (both || cell.standing == Standing::never || cell.by_ruling) cite(cell.cited_against, both ? 2 : 1, against);
        }
        std::string text;
        if (!in_favour.empty()) text += fmt::format(" [{}]", fmt::join(in_favour, ","));
        if (!against.empty()) text += fmt::format(" against [{}]", fmt::join(against, ","));
        return text;
    }

    void cite(const std::vector<CellCitation>& sources, std::size_t count, std::set<int>& numbers) {
        for (std::size_t taken = 0, i = 0; i < sources.size() && taken < count; ++taken) {
            std::size_t end = i;  // those as reliable as the next
            while (end < sources.size() && sources[end].reliability == sources[i].reliability) ++end;
            std::size_t pick = i;
            for (std::size_t k = end; k-- > i;)
                if (cited_.count(sources[k].source) != 0) pick = k;
            cited_.insert(sources[pick].source);
            numbers.insert(notes_.number_of(sources[pick].source));
            i = count == 1 ? sources.size() : std::max(pick, i) + 1;
        }
    }

    void write_unspoken(const ComparedRelation& relation) {
        if (relation.unspoken.empty()) return;
        std::vector<std::string> named;
        for (const EntityId id : relation.unspoken) {
            if (named.size() == most_named_unspoken) break;
            named.push_back(graph_.label_of(id));
        }
        const std::size_t left = relation.unspoken.size() - named.size();
        if (relation.unspoken_more) {
            named.push_back(fmt::format("more than {} others", left));
        } else if (left > 0) {
            named.push_back(fmt::format("{} more", left));
        }
        line("nothing is said of any: " + in_words(named), 4);
    }

    void write_concepts() {
        line(call_.layout.strong("groups that share exactly these") + "  (formal concepts)", 0);
        std::map<std::vector<std::size_t>, std::vector<std::size_t>> own;  // features that no larger group shares
        for (std::size_t f = 0; f < answer_.features.size(); ++f) {
            std::vector<std::size_t> having;
            const auto& cells = object_of(f).cells;
            for (std::size_t i = 0; i < cells.size(); ++i)
                if (cells[i].standing == Standing::has) having.push_back(i);
            own[having].push_back(f);
        }
        std::size_t written = 0, passed = 0;
        for (const Concept& one : answer_.concepts.found) {
            if (one.things.size() < 2 || one.features.empty()) continue;
            if (written == most_groups) {
                ++passed;
                continue;
            }
            ++written;
            std::vector<std::string> group;
            for (const std::size_t i : one.things) group.push_back(names_[i]);
            const auto& its = own[one.things];
            const std::string who = one.things.size() == names_.size() ? fmt::format("all {}", names_.size()) : in_words(group);
            line(fmt::format("{}: {} in common, {} in no larger group{}", who, one.features.size(), its.size(), its.empty() ? "" : ":"), 4);
            if (!its.empty()) line(feature_words(its), 8);
        }
        if (passed > 0) line(fmt::format("and {} smaller groups; see them with --json", passed), 4);
        line(fmt::format("{}{} concepts; what is denied, disputed or not known counts alike as not shared",
                         answer_.concepts.complete ? "" : "more than ", answer_.concepts.found.size()), 4);
    }

    const ComparedObject& object_of(std::size_t feature) const {
        const ComparedFeature& at = answer_.features[feature];
        return answer_.relations[at.relation].objects[at.object];
    }

    std::string feature_words(const std::vector<std::size_t>& features) const {
        std::string text;
        std::size_t named = 0, relation = answer_.relations.size();
        for (const std::size_t f : features) {
            if (named == most_features) break;
            const std::size_t its = answer_.features[f].relation;
            if (its != relation) text += (text.empty() ? "" : "; ") + answer_.relations[its].label + " ";
            text += (its == relation ? ", " : "") + object_of(f).label;
            relation = its;
            ++named;
        }
        if (named < features.size()) text += fmt::format("; and {} more", features.size() - named);
        return text;
    }

    void write_rest() {
        if (!answer_.silent.empty()) line("nothing is on record of: " + in_words(answer_.silent), 0);
        if (!answer_.not_read.empty()) line("not compared unless named with --relation: " + in_words(answer_.not_read), 0);
        if (!answer_.cut.empty()) line("too much to compare at once; name with --relation: " + in_words(answer_.cut), 0);
        if (answer_.hidden > 0) line(fmt::format("({} private not shown; see with --with-private)", answer_.hidden), 0);
        line(fmt::format("\"has\" is a support of {} or more, \"never\" a possibility of {} or less; \"not known\" is no evidence either "
                         "way. Weighed by profile {}; its numbers are conventions",
                         figure_text(answer_.supported, 0), figure_text(1 - answer_.supported, 0), answer_.profile),
             0);
    }

    Call& call_;
    const Snapshot& graph_;
    const CompareAnswer& answer_;
    std::size_t most_;
    bool all_rows_;
    NoteList& notes_;
    std::vector<std::string> names_;
    std::set<EntityId> cited_;
};

}  // namespace

void write_comparison(Call& call, const Snapshot& graph, const CompareAnswer& answer, std::size_t most, bool all_rows,
                      NoteList& notes) {
    ComparisonWriter(call, graph, answer, most, all_rows, notes).write();
}

}  // namespace saggar::app
