// Reads the cells of a grid from claims.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "kg/model/vocabulary.h"
#include "queries/statement.h"
#include "viz/draft.h"
#include "viz/grid.h"
#include "viz/notation.h"

namespace saggar::viz {

namespace {

// What is gathered about one row and column before it becomes a cell.
struct Gathered {
    bool for_any = false, for_everywhere = false, against = false, against_everywhere = false, borrowed = false,
         disputed = false;
    bool scoped_for = false;
    std::optional<double> support;
    std::vector<std::string> lines, lenders;
    std::vector<EvidenceRow> readings_for, readings_against;
    std::vector<ListingRow> lists;
};

void unite(std::vector<int>& into, int number) {
    if (std::find(into.begin(), into.end(), number) == into.end()) into.push_back(number);
}

class GridReader {
public:
    GridReader(const Snapshot& snapshot, const GridOptions& options, Draft& draft)
        : snapshot_(snapshot), options_(options), draft_(draft), relation_(snapshot.relation_id(options.relation)) {}

    void read_row(EntityId row) {
        auto& cells = gathered_[row];
        if (relation_) {
            for (const auto& claim : snapshot_.claims_of(row, relation_)) {
                if (claim.claim.has_entity_object()) add_claim(claim, cells[claim.claim.object]);
            }
        }
        if (options_.relation == "comprises") add_items(row, cells);
    }

    // Complete lists: what is in some row but not in this one, and left out of its list.
    void read_lists(EntityId row, const std::vector<EntityId>& columns) {
        if (!relation_) return;
        for (const auto& list : snapshot_.listings(row, relation_)) {
            if (!list.scope.empty() || !draft_.may_show(list)) continue;
            for (const auto column : columns) {
                auto& cell = gathered_[row][column];
                if (cell.for_any && is_listed(row, column, list.source)) continue;
                if (cell.for_any && !cell.for_everywhere) continue;  // one buyer's: outside what the list is about
                cell.against = true;
                cell.against_everywhere = true;
                cell.lists.push_back(list);
            }
        }
    }

    std::vector<EntityId> columns() const {
        if (!options_.columns.empty()) return options_.columns;
        std::map<EntityId, std::size_t> known;
        for (const auto& [row, cells] : gathered_) {
            for (const auto& [column, cell] : cells) ++known[column];
        }
        std::vector<EntityId> result;
        for (const auto& [column, count] : known) result.push_back(column);
        if (result.size() > options_.most_columns) {
            std::stable_sort(result.begin(), result.end(),
                             [&known](EntityId a, EntityId b) { return known.at(a) > known.at(b); });
            result.resize(options_.most_columns);
        }
        std::sort(result.begin(), result.end(), [this](EntityId a, EntityId b) {
            const auto la = snapshot_.label_of(a), lb = snapshot_.label_of(b);
            return la != lb ? la < lb : snapshot_.key_of(a) < snapshot_.key_of(b);
        });
        return result;
    }

    std::size_t not_cited() const { return not_cited_; }

    std::size_t left_out(const std::vector<EntityId>& columns) const {
        std::set<EntityId> all;
        for (const auto& [row, cells] : gathered_) {
            for (const auto& [column, cell] : cells) all.insert(column);
        }
        for (const auto column : columns) all.erase(column);
        return all.size();
    }

    // Citations are numbered here, in the order of the cells.
    GridCell cell(EntityId row, EntityId column) {
        GridCell result;
        const auto found = gathered_.at(row).find(column);
        if (found == gathered_.at(row).end()) return result;
        const Gathered& g = found->second;
        cite(result.cited_for, g.readings_for);
        for (const auto& list : g.lists) unite(result.cited_against, draft_.cite(list));
        cite(result.cited_against, g.readings_against);
        result.support = g.support;
        result.state = state_of(g);
        if (result.state == CellState::one_buyer) result.note = joined(g.lines);
        if (result.state == CellState::borrowed) result.note = joined(g.lenders);
        return result;
    }

private:
    static std::string joined(const std::vector<std::string>& parts) {
        std::string text;
        for (const auto& part : parts) text += (text.empty() ? "" : ", ") + part;
        return text;
    }

    // With figures, "disputed" is what the weighing calls contested; without, any denial beside an assertion.
    CellState state_of(const Gathered& g) const {
        const bool denied = g.against_everywhere;
        if (!g.for_any) return denied ? CellState::not_made : CellState::unknown;
        if (!g.for_everywhere) return CellState::one_buyer;
        if (g.disputed || (!options_.figure && denied)) return CellState::disputed;
        if (g.support && *g.support < 0.2 && denied) return CellState::not_made;
        return g.borrowed ? CellState::borrowed : CellState::made;
    }

    bool is_listed(EntityId row, EntityId column, EntityId source) const {
        for (const auto& claim : snapshot_.claims_of(row, relation_)) {
            if (!claim.claim.has_entity_object() || claim.claim.object != column) continue;
            for (const auto& evidence : claim.evidence) {
                if (evidence.source == source && evidence.stance == Stance::in_favour) return true;
            }
        }
        return false;
    }

    // A cell names at most so many citations a side; the rest is counted for the whole picture.
    void cite(std::vector<int>& numbers, const std::vector<EvidenceRow>& readings) {
        for (const auto& reading : readings) {
            if (numbers.size() < options_.most_cited) {
                unite(numbers, draft_.cite(reading));
            } else {
                ++not_cited_;
            }
        }
    }

    void add_claim(const ClaimWithEvidence& claim, Gathered& cell) {
        if (!draft_.may_show(claim)) return;
        bool in_favour = claim.evidence.empty();
        const bool everywhere = claim.claim.scope.empty();
        for (const auto& evidence : claim.evidence) {
            if (!draft_.may_show(evidence)) continue;
            const bool is_for = evidence.stance == Stance::in_favour;
            in_favour = in_favour || is_for;
            (is_for ? cell.readings_for : cell.readings_against).push_back(evidence);
            if (!is_for) {
                cell.against = true;
                cell.against_everywhere = cell.against_everywhere || everywhere;
            }
        }
        if (!in_favour) return;
        cell.for_any = true;
        cell.for_everywhere = cell.for_everywhere || everywhere;
        if (!everywhere) {
            const auto scope = snapshot_.find(claim.claim.scope);
            const auto name = scope ? snapshot_.label_of(*scope) : claim.claim.scope;
            if (std::find(cell.lines.begin(), cell.lines.end(), name) == cell.lines.end()) cell.lines.push_back(name);
        }
        if (!options_.figure) return;
        const Figure figure = options_.figure(claim.claim.ref);
        if (everywhere) cell.disputed = cell.disputed || figure.disputed;
        if (figure.support) cell.support = std::max(cell.support.value_or(0), *figure.support);
    }

    // An item of the shape, in the form of an article, shows that the shape has the article.
    void add_items(EntityId shape, std::map<EntityId, Gathered>& cells) {
        const auto of_shape = snapshot_.relation_id("of-shape"), form = snapshot_.relation_id("article-of");
        const auto borrowed = snapshot_.relation_id("borrowed-from");
        if (!of_shape || !form) return;
        for (const auto ref : snapshot_.claims_about(shape)) {
            if (ref.relation != of_shape) continue;
            const auto item_claim = snapshot_.claim(ref);
            if (!item_claim || !draft_.may_show(*item_claim)) continue;
            for (const auto& article : snapshot_.claims_of(ref.subject, form)) {
                if (!article.claim.has_entity_object()) continue;
                auto& cell = cells[article.claim.object];
                const bool denied_for_shape = cell.against_everywhere;
                if (!cell.for_any || denied_for_shape || cell.readings_for.empty()) add_claim(*item_claim, cell);
                cell.for_any = cell.for_everywhere = true;
                if (borrowed) add_lenders(ref.subject, borrowed, cell);
            }
        }
    }

    void add_lenders(EntityId item, RelationId borrowed, Gathered& cell) {
        for (const auto& claim : snapshot_.claims_of(item, borrowed)) {
            if (!claim.claim.has_entity_object() || !draft_.may_show(claim)) continue;
            cell.borrowed = true;
            cell.lenders.push_back(snapshot_.label_of(claim.claim.object));
            for (const auto& evidence : claim.evidence) {
                if (draft_.may_show(evidence) && evidence.stance == Stance::in_favour)
                    cell.readings_for.push_back(evidence);
            }
        }
    }

    const Snapshot& snapshot_;
    const GridOptions& options_;
    Draft& draft_;
    RelationId relation_;
    std::map<EntityId, std::map<EntityId, Gathered>> gathered_;
    std::size_t not_cited_ = 0;
};

// A box of the draft tells whether the thing carries a caution.
GridHead head_of(const Snapshot& snapshot, Draft& draft, EntityId id) {
    const auto node = draft.entity(id);
    return {snapshot.key_of(id), snapshot.label_of(id), draft.diagram().nodes[node].caution};
}

// The kind as a word where all are of one kind, else "thing".
std::string kind_of_all(const Snapshot& snapshot, const std::vector<EntityId>& things) {
    std::string word;
    for (const auto thing : things) {
        const Kind* kind = snapshot.vocabulary().find_kind(snapshot.kind_of(thing));
        const std::string label = kind == nullptr ? std::string(snapshot.kind_of(thing)) : kind->label;
        if (!word.empty() && word != label) return "thing";
        word = label;
    }
    return word.empty() ? "thing" : word;
}

}  // namespace

std::string_view Grid::word(CellState state) const {
    switch (state) {
        case CellState::unknown:
            return "unknown";
        case CellState::made:
            return of_articles ? "made" : "yes";
        case CellState::not_made:
            return of_articles ? "not made" : "no";
        case CellState::one_buyer:
            return "one buyer's";
        case CellState::borrowed:
            return "borrowed";
        case CellState::disputed:
            return "disputed";
    }
    return "";
}

std::string_view cell_sign(CellState state) {
    switch (state) {
        case CellState::unknown:
            return "?";
        case CellState::made:
            return "+";
        case CellState::not_made:
            return "\u2212";
        case CellState::one_buyer:
            return "1";
        case CellState::borrowed:
            return "<";
        case CellState::disputed:
            return "\u2260";
    }
    return "";
}

Grid grid(const Snapshot& snapshot, const std::vector<EntityId>& rows, const GridOptions& options) {
    DraftOptions draft_options;
    draft_options.figure = options.figure;
    draft_options.with_private = options.with_private;
    draft_options.cite = options.cite;
    draft_options.made_from = options.made_from;
    draft_options.short_notes = true;
    Draft draft(snapshot, draft_options, "grid");
    GridReader reader(snapshot, options, draft);
    std::vector<EntityId> shown;
    for (const auto row : rows) {
        if (!draft.may_show(row)) continue;
        shown.push_back(row);
        reader.read_row(row);
    }
    auto columns = reader.columns();
    columns.erase(std::remove_if(columns.begin(), columns.end(), [&draft](EntityId id) { return !draft.may_show(id); }),
                  columns.end());
    for (const auto row : shown) reader.read_lists(row, columns);

    Grid result;
    result.of_articles = options.relation == "comprises";
    for (const auto row : shown) result.rows.push_back(head_of(snapshot, draft, row));
    for (const auto column : columns) result.columns.push_back(head_of(snapshot, draft, column));
    for (const auto row : shown) {
        auto& cells = result.cells.emplace_back();
        for (const auto column : columns) cells.push_back(reader.cell(row, column));
    }
    if (const auto left = reader.left_out(columns); left > 0) {
        draft.diagram().left_out = options.columns.empty()
                                       ? fmt::format("{} columns of which least is known.", left)
                                       : fmt::format("{} columns that were not asked for.", left);
    }
    if (reader.not_cited() > 0) {
        auto& left_out = draft.diagram().left_out;
        left_out += fmt::format("{}{} further readings are not cited: a cell names {} a side.",
                                left_out.empty() ? "" : " ", reader.not_cited(), options.most_cited);
    }
    const auto* relation = snapshot.vocabulary().find_relation(options.relation);
    const std::string words = relation == nullptr ? options.relation : relation->label;
    Diagram done = draft.finish(
        fmt::format("Which {} {} which {}", kind_of_all(snapshot, shown), words, kind_of_all(snapshot, columns)),
        "An unknown cell says nothing: neither that there was one nor that there was none.");
    result.title = std::move(done.title);
    result.description = std::move(done.description);
    result.made_from = std::move(done.made_from);
    result.left_out = std::move(done.left_out);
    result.citations = std::move(done.citations);
    result.cautions = std::move(done.cautions);
    return result;
}

std::vector<std::vector<std::string>> to_table(const Grid& grid) {
    std::vector<std::vector<std::string>> table(1, {""});
    for (const auto& column : grid.columns) table[0].push_back(column.label);
    for (std::size_t r = 0; r < grid.rows.size(); ++r) {
        auto& line = table.emplace_back(std::vector<std::string>{grid.rows[r].label});
        for (const auto& cell : grid.cells[r]) {
            std::string text = std::string(cell_sign(cell.state)) + " " + std::string(grid.word(cell.state));
            if (!cell.cited_for.empty()) text += " " + numbers_text(cell.cited_for);
            if (!cell.cited_against.empty()) text += " against " + numbers_text(cell.cited_against);
            line.push_back(text);
        }
    }
    return table;
}

}  // namespace saggar::viz
