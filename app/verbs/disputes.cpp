#include "queries/disputes.h"

#include <fmt/format.h>

#include "app/json_out.h"
#include "app/session.h"
#include "app/text/notes.h"
#include "app/text/rulings.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"
#include "kg/weigh/profile.h"
#include "queries/disputes_json.h"
#include "queries/privacy.h"
#include "queries/statement.h"
#include "viz/argument.h"

namespace saggar::app {
namespace {

std::string counted(std::size_t count, const char* one, const char* many) {
    return fmt::format("{} {}", count, count == 1 ? one : many);
}

class DisputeWriter {
public:
    DisputeWriter(Call& call, const Snapshot& graph) : call_(call), graph_(graph), privacy_(graph, call.with_private), notes_(graph) {}

    void write(const Dispute& dispute, std::size_t number) {
        std::string kinds;
        for (const DisputeKind kind : dispute.kinds) kinds += (kinds.empty() ? "" : ", ") + word_for(kind);
        *call_.out << call_.layout.strong(fmt::format("dispute {}", number)) << fmt::format("  {}; contradictory {}; {}", kinds,
                                                                                         figure_text(dispute.both, 0),
                                                                                         counted(dispute.resting, "claim rests", "claims rest"))
                   << " on it" << (dispute.settled ? "; settled" : "") << '\n';
        for (const DisputeView& view : dispute.views) write(view);
        if (dispute.hidden)
            line(fmt::format("({} not shown; see it with --with-private)", counted(dispute.hidden, "private view", "private views")), 4);
        for (const DisputeClash& clash : dispute.clashes) write(clash);
        if (dispute.missing) write(*dispute.missing);
    }

    void write_notes() { notes_.write(*call_.out, call_.layout); }

private:
    void line(const std::string& text, std::size_t indent) {
        *call_.out << std::string(indent, ' ') << wrap(text, call_.layout.width, indent + 2) << '\n';
    }

    void write(const DisputeView& view) {
        const Weight& weight = view.weight;
        const auto claim = graph_.claim(weight.claim);
        if (!claim) return;
        *call_.out << "    " << wrap_with_tail(statement(graph_, claim->claim), "claim:" + claim->claim.id.brief(),
                                                  call_.layout, 6)
                   << '\n';
        std::string figures = viz::masses_in_words(weight.masses);
        if (weight.clarity == Clarity::no_figure || !weight.normalised) {
            figures += "; too contradictory for one figure";
        } else {
            figures += fmt::format("; support {}, possibility {}", figure_text(weight.support, weight.half_width),
                                   figure_text(weight.possibility, weight.half_width));
            if (weight.clarity == Clarity::contradictory) figures += "; the sources contradict each other";
        }
        line(figures, 8);
        write_side(weight, *claim, Stance::in_favour);
        write_side(weight, *claim, Stance::against);
        write_arguments(weight.claim);
        write_rulings(call_, graph_, view.rulings, 8);
    }

    void write_side(const Weight& weight, const ClaimWithEvidence& claim, Stance stance) {
        std::string marks;
        for (const ReadingShown& reading : weight.readings)
            if (reading.stance == stance) marks += " " + mark_of(reading, claim);
        if (marks.empty()) return;
        const std::size_t roots = stance == Stance::in_favour ? weight.roots_for : weight.roots_against;
        line(fmt::format("{} ({}):{}", stance == Stance::in_favour ? "for" : "against", counted(roots, "independent root", "independent roots"), marks), 8);
    }

    std::string mark_of(const ReadingShown& reading, const ClaimWithEvidence& claim) {
        EvidenceRow mentioned;
        mentioned.source = reading.source;
        for (const EvidenceRow& row : claim.evidence)
            if (row.id == reading.record) mentioned = row;
        for (const ListingRow& row : graph_.listings(claim.claim.ref.subject, claim.claim.ref.relation)) {
            if (row.id != reading.record) continue;
            mentioned.at = row.at;
            mentioned.quote = row.quote;
        }
        if (!privacy_.may_tell(reading.record)) return "(private)";
        std::string mark = fmt::format("[{}]", notes_.number_of(mentioned));
        if (reading.is_listing) mark += " (a list without it)";
        if (reading.role == ReadingShown::Role::copy && privacy_.may_show(reading.root))
            return mark + " (copied from " + graph_.label_of(reading.root) + ")";
        if (reading.role != ReadingShown::Role::own) mark += " (" + word_for(reading.role) + ")";
        return mark;
    }

    void write_arguments(ClaimRef claim) {
        for (const ArgumentRow& row : graph_.arguments_for(claim)) {
            if (!privacy_.may_show(row)) continue;
            line(fmt::format("{}: {} (strength {})", row.stance == Stance::in_favour ? "argued for" : "argued against", row.reason, row.strength), 8);
        }
    }

    void write(const DisputeClash& clash) {
        line(fmt::format("{}; against that date, taken together {}:", clash.clash.rule, figure_text(clash.joint, 0)), 8);
        for (const ClaimRef ref : clash.clash.others) {
            const auto claim = graph_.claim(ref);
            if (!claim) continue;
            std::string marks;
            for (const EvidenceRow& row : claim->evidence)
                if (privacy_.may_show(row) && row.stance == Stance::in_favour) marks += fmt::format(" [{}]", notes_.number_of(row));
            line(statement(graph_, claim->claim) + marks, 12);
        }
    }

    void write(const MissingEvidence& missing) {
        const auto claim = graph_.claim(missing.claim);
        if (!claim) return;
        const std::string about = statement(graph_, claim->claim);
        if (missing.kind == MissingEvidence::Kind::second_look) {
            line(fmt::format("{}: a second look at {}; if it were misread, \"{}\" would stand at {} and the contradiction at {}",
                             missing.clears ? "would clear it up most" : missing.settles ? "would settle it" : "would help most",
                             graph_.label_of(missing.source), about,
                             figure_text(missing.if_misread, 0), figure_text(missing.both_if_misread, 0)), 4);
            return;
        }
        line(fmt::format("{}: one more independent source of the grade \"{}\"{}; \"{}\" would stand at {} if it said so, at {} if it denied it",
                         missing.settles ? "would settle it" : "would help most", missing.grade_label,
                         missing.first_of_its_kind ? " (none has been read yet)" : "", about, figure_text(missing.if_for, 0),
                         figure_text(missing.if_against, 0)), 4);
    }

    Call& call_;
    const Snapshot& graph_;
    Privacy privacy_;
    NoteList notes_;
};

DisputesQuestion question_of(const Call& call, const Snapshot& graph) {
    DisputesQuestion question;
    if (const std::string key = call.operand("KEY"); !key.empty()) question.thing = need_thing(call, graph, key);
    if (call.has("--kind")) {
        question.kind = dispute_kind(call.get("--kind"));
        if (!question.kind)
            throw UsageFault("there is no kind of dispute \"" + call.get("--kind") + "\"",
                             "give two-sided, rivals, dates, list, identity or rulings");
    }
    question.least = call.number("--least", 0, 0, 1);
    question.unsettled = call.has("--unsettled");
    question.with_private = call.with_private;
    question.most = call.count("--most", 20, 1, 1'000'000);
    return question;
}

int run_disputes(Call& call) {
    const Session session = open_to_read(call);
    const Snapshot& graph = *session.snapshot;
    const DisputesQuestion question = question_of(call, graph);
    Privacy privacy(graph, call.with_private);
    Weigher weigher(graph);
    const DisputesAnswer answer = disputes(graph, weigher, question);
    if (call.json) {
        print(*call.out, to_json(answer, graph, privacy));
        return fine;
    }
    if (answer.disputes.empty()) {
        *call.out << "no disputes: nothing on record contradicts anything else here\n";
        return fine;
    }
    DisputeWriter writer(call, graph);
    std::size_t number = 0;
    for (const Dispute& dispute : answer.disputes) writer.write(dispute, ++number);
    if (answer.found > answer.disputes.size())
        *call.out << fmt::format("{} more; see them with --most N\n", answer.found - answer.disputes.size());
    writer.write_notes();
    *call.out << "weighed by profile " << weigher.profile().title() << "; its numbers are conventions\n";
    return fine;
}

}  // namespace

Verb disputes_verb() {
    return {"disputes",
            "claims in conflict, both sides with their evidence, and what would settle them",
            {{"KEY", "only disputes about this thing, or in which this source speaks", false}},
            {{"--kind", "KIND", "two-sided, rivals, dates, list, identity or rulings"},
             {"--least", "MASS", "only where the contradictory mass is this or more, 0..1"},
             {"--unsettled", "", "only those without a ruling that stands"},
             {"--most", "N", "how many are shown (20)"}},
            run_disputes,
            "Ordered by how many claims rest on the dispute, times how contradictory it is. A claim rests on another that it is argued "
            "from, or whose subject it names.\n"
            "\"Settled\" by new evidence means .80 or more for one view and .20 or less for the others; that is a convention."};
}

}  // namespace saggar::app
