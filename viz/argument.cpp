#include "viz/argument.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "kg/model/vocabulary.h"
#include "queries/cite_graph.h"
#include "queries/statement.h"
#include "viz/notation.h"

namespace saggar::viz {

namespace {

class ArgumentWriter {
public:
    ArgumentWriter(const Snapshot& snapshot, DraftOptions options, std::string name)
        : snapshot_(snapshot), draft_(snapshot, std::move(options), std::move(name)) {
        draft_.diagram().flow = Flow::up;
    }

    Draft& draft() { return draft_; }

    // The claim with its readings as they count, its lists and its inferences. Nothing where it may not be shown.
    std::optional<std::size_t> write(const Weight& weight) {
        const auto claim = snapshot_.claim(weight.claim);
        if (!claim || !draft_.may_show(*claim)) return std::nullopt;
        const auto node = draft_.claim(*claim);
        auto& box = draft_.diagram().nodes[node];
        box.weight = weight.clarity == Clarity::contradictory || weight.clarity == Clarity::no_figure
                         ? std::nullopt
                         : std::optional(weight.support);
        box.disputed = weight.clarity != Clarity::clear;
        box.note = masses_in_words(weight.masses);
        for (const auto stance : {Stance::in_favour, Stance::against}) {
            write_readings(*claim, weight, node, stance);
            write_inferences(weight.claim, node, stance);
        }
        drawn_.insert(weight.claim);
        return node;
    }

    // A claim of the lineage without its weight: evidence as recorded.
    void write_plain(ClaimRef ref) {
        if (!drawn_.insert(ref).second) return;
        const auto claim = snapshot_.claim(ref);
        if (!claim || !draft_.may_show(*claim)) return;
        const auto node = draft_.claim(*claim);
        for (const auto stance : {Stance::in_favour, Stance::against}) {
            for (const auto& row : claim->evidence) {
                if (row.stance == stance) draft_.evidence_line(row, node, std::nullopt);
            }
            write_inferences(ref, node, stance);
        }
    }

    // Claims of the lineage that cannot hold beside `ref`: same subject, same relation of which there is at most one.
    void write_rivals(const Weight& weight, std::size_t node) {
        const auto* relation = snapshot_.vocabulary().find_relation(snapshot_.relation_name(weight.claim.relation));
        if (relation == nullptr || !relation->at_most_one) return;
        for (const auto other : weight.claims) {
            if (other == weight.claim || other.subject != weight.claim.subject ||
                other.relation != weight.claim.relation)
                continue;
            const auto claim = snapshot_.claim(other);
            if (!claim || !draft_.may_show(*claim)) continue;
            DiagramEdge edge;
            edge.from = draft_.claim(*claim);
            edge.to = node;
            edge.role = LineRole::inference;
            edge.stance = Stance::against;
            edge.label = "rival: only one of them can hold";
            edge.weight = draft_.diagram().nodes[edge.from].weight;
            draft_.diagram().edges.push_back(std::move(edge));
        }
    }

private:
    void write_readings(const ClaimWithEvidence& claim, const Weight& weight, std::size_t node, Stance stance) {
        for (const auto& reading : weight.readings) {
            if (reading.stance != stance) continue;
            if (reading.is_listing) {
                write_listing(claim, reading, node);
                continue;
            }
            const auto row = std::find_if(claim.evidence.begin(), claim.evidence.end(),
                                          [&](const EvidenceRow& r) { return r.id == reading.record; });
            if (row == claim.evidence.end()) continue;
            const auto line = draft_.evidence_line(*row, node, reading.reliability);
            if (!line) continue;
            auto& edge = draft_.diagram().edges[*line];
            edge.stance = reading.stance;
            if (row->stance != reading.stance) std::swap(edge.cited_for, edge.cited_against);
            if (reading.role != ReadingShown::Role::own) edge.label = joined(role_words(reading.role), edge.label);
            write_root(reading, draft_.diagram().edges[*line].from);
        }
    }

    static std::string joined(const std::string& first, const std::string& second) {
        return first + (first.empty() || second.empty() ? "" : "; ") + second;
    }

    static std::string role_words(ReadingShown::Role role) {
        switch (role) {
            case ReadingShown::Role::own:
                return {};
            case ReadingShown::Role::copy:
                return "a copy";
            case ReadingShown::Role::suspected:
                return "perhaps a copy";
            case ReadingShown::Role::corrected:
                return "taken back by its author";
            case ReadingShown::Role::no_basis:
                return "no basis: cannot be judged";
        }
        return {};
    }

    void write_root(const ReadingShown& reading, std::size_t from) {
        const bool copied = reading.role == ReadingShown::Role::copy || reading.role == ReadingShown::Role::suspected;
        if (!copied || !reading.root || !draft_.may_show(reading.root)) return;
        DiagramEdge edge;
        edge.from = from;
        edge.to = draft_.entity(reading.root);
        edge.role = LineRole::copy;
        edge.label = reading.role == ReadingShown::Role::copy ? "was copied from" : "was perhaps copied from";
        const auto& lines = draft_.diagram().edges;
        const bool known = std::any_of(lines.begin(), lines.end(), [&edge](const DiagramEdge& e) {
            return e.role == LineRole::copy && e.from == edge.from && e.to == edge.to;
        });
        if (!known && edge.from != edge.to) draft_.diagram().edges.push_back(std::move(edge));
    }

    void write_listing(const ClaimWithEvidence& claim, const ReadingShown& reading, std::size_t node) {
        for (const auto& row : snapshot_.listings(claim.claim.ref.subject, claim.claim.ref.relation)) {
            if (row.id != reading.record || !draft_.may_show(row)) continue;
            DiagramEdge edge;
            edge.from = draft_.entity(row.source);
            edge.to = node;
            edge.role = LineRole::evidence;
            edge.key = "list:" + row.id.full();
            edge.stance = reading.stance;
            edge.weight = reading.reliability;
            edge.label = "lists them all, and this is not among them";
            edge.cited_against.push_back(draft_.cite(row));
            draft_.diagram().edges.push_back(std::move(edge));
        }
    }

    void write_inferences(ClaimRef conclusion, std::size_t node, Stance stance) {
        for (const auto& row : snapshot_.arguments_for(conclusion)) {
            if (row.stance != stance || !draft_.may_show(row)) continue;
            DiagramNode box;
            box.key = "argument:" + row.id.full();
            box.kind = row.rule.empty() ? "inference" : "inference by the rule " + row.rule;
            box.outline = Outline::framed;
            box.label = row.reason.empty() ? "no reason given" : row.reason;
            draft_.diagram().nodes.push_back(std::move(box));
            DiagramEdge step;
            step.from = draft_.diagram().nodes.size() - 1;
            step.to = node;
            step.role = LineRole::inference;
            step.stance = stance;
            step.weight = row.strength;
            step.label = "strength of the step";
            draft_.diagram().edges.push_back(step);
            for (const auto premise : row.premises) write_premise(premise, step.from);
        }
    }

    void write_premise(ClaimRef premise, std::size_t box) {
        const auto claim = snapshot_.claim(premise);
        if (!claim || !draft_.may_show(*claim)) return;
        DiagramEdge edge;
        edge.from = draft_.claim(*claim);
        edge.to = box;
        edge.role = LineRole::inference;
        edge.label = "premise";
        draft_.diagram().edges.push_back(std::move(edge));
    }

    const Snapshot& snapshot_;
    Draft draft_;
    std::set<ClaimRef> drawn_;
};

std::string support_sentence(const Weight& weight) {
    if (weight.clarity == Clarity::contradictory || weight.clarity == Clarity::no_figure) {
        return "The sources contradict each other; no single figure is given. ";
    }
    std::string text = fmt::format("Support {}", weight_text(weight.support));
    if (!weight.words.empty()) text += " (" + weight.words + ")";
    text += fmt::format(", possibility {}", weight_text(weight.possibility));
    if (weight.method == Method::sampled) text += fmt::format(", sampled, half-width {:g}", weight.half_width);
    return text + ". ";
}

std::string roots_sentence(const Weight& weight) {
    return fmt::format(" Independent sources: {} for, {} against.", weight.roots_for, weight.roots_against);
}

const char* ruling_words(Ruling::Decision decision) {
    switch (decision) {
        case Ruling::Decision::accepted:
            return "accepted";
        case Ruling::Decision::rejected:
            return "rejected";
        case Ruling::Decision::left_open:
            return "left open";
    }
    return "";
}

// "Ruled on 3 May 2020 by H. Q.: accepted. Reasons."
std::string rulings_text(const Draft& draft, ClaimRef claim) {
    std::string text;
    for (const auto& row : draft.snapshot().rulings(claim)) {
        if (!draft.may_show(row)) continue;
        text += " Ruling";
        if (!row.decided_on.empty()) text += " of " + date_in_words(row.decided_on);
        if (!row.decided_by.empty()) text += " by " + row.decided_by;
        text += fmt::format(": {}{}.", ruling_words(row.decision), row.reasons.empty() ? "" : "; " + row.reasons);
        if (text.ends_with("..")) text.pop_back();
    }
    return text;
}

// "Disputed: Pinnace was modelled by A, or B?"
std::string dispute_title(const Snapshot& snapshot, const std::vector<Weight>& views) {
    std::string title;
    for (const auto& weight : views) {
        const auto claim = snapshot.claim(weight.claim);
        if (!claim) continue;
        const bool same_start = weight.claim.subject == views.front().claim.subject &&
                                weight.claim.relation == views.front().claim.relation;
        if (title.empty()) {
            title = "Disputed: " + statement(snapshot, claim->claim);
        } else {
            title += same_start ? ", or " + object_words(snapshot, claim->claim)
                                : ", against: " + statement(snapshot, claim->claim);
        }
    }
    return title.empty() ? "A dispute" : title + "?";
}

}  // namespace

std::string masses_in_words(const Masses& masses) {
    return fmt::format("argued for {}, argued against {}, contradictory {}, open {}", weight_text(masses.for_only),
                       weight_text(masses.against_only), weight_text(masses.both), weight_text(masses.neither));
}

Diagram argument(const Snapshot& snapshot, const Weight& weight, const ArgumentOptions& options, DraftOptions draft) {
    ArgumentWriter writer(snapshot, std::move(draft), "argument");
    const auto node = writer.write(weight);
    if (node) {
        writer.draft().diagram().nodes[*node].focus = true;
        writer.write_rivals(weight, *node);
        if (options.whole) {
            for (const auto ref : weight.claims) writer.write_plain(ref);
        }
    }
    const auto claim = snapshot.claim(weight.claim);
    const auto title = node && claim ? statement(snapshot, claim->claim) : std::string("A claim that may not be shown");
    return writer.draft().finish(title, support_sentence(weight) + "The evidence: " + masses_in_words(weight.masses) +
                                            "." + roots_sentence(weight) + (node ? rulings_text(writer.draft(), weight.claim) : ""));
}

Diagram dispute(const Snapshot& snapshot, const std::vector<Weight>& views, DraftOptions draft) {
    ArgumentWriter writer(snapshot, std::move(draft), "dispute");
    std::vector<std::size_t> boxes;
    std::vector<Weight> shown;
    std::string description;
    for (const auto& weight : views) {
        const auto node = writer.write(weight);
        if (!node) continue;
        writer.draft().diagram().nodes[*node].focus = true;
        boxes.push_back(*node);
        description +=
            fmt::format("{}View {}: {}", description.empty() ? "" : " ", boxes.size(), support_sentence(weight));
        if (description.ends_with(' ')) description.pop_back();
        description += rulings_text(writer.draft(), weight.claim);
        shown.push_back(weight);
    }
    for (std::size_t i = 1; i < boxes.size(); ++i) {
        DiagramEdge tie;
        tie.from = boxes[i - 1];
        tie.to = boxes[i];
        tie.role = LineRole::tie;
        tie.label = "cannot both hold";
        writer.draft().diagram().edges.push_back(std::move(tie));
    }
    return writer.draft().finish(dispute_title(snapshot, shown), description);
}

}  // namespace saggar::viz
