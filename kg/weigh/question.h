// One question worked out: the case, its lineage, and the figures of the events asked for, ready to be asked again.
//
// A question about one claim has four events: for only, against only, neither, no contradiction. A question about
// chains has four: raw, in the worlds without contradiction, uncontested, no contradiction. Asking under other
// assumptions (a what-if, another dependence) changes chances only, so the figures are not built again.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "kg/weigh/case_lineage.h"
#include "kg/weigh/chances.h"
#include "kg/weigh/claim_web.h"
#include "kg/weigh/figures.h"
#include "kg/weigh/sample.h"
#include "kg/weigh/weight.h"

namespace saggar {

class Profile;

// One answer: the values of the four events.
struct Reply {
    std::vector<double> values;
    Method method = Method::exact;
    std::size_t worlds = 0;   // drawn
    bool normalised = true;   // false: too few worlds without contradiction were met to say anything given that there is none
    double half_width = 0;    // of the normalised figures and the raw ones; of the raw ones alone where not normalised
    std::vector<std::vector<double>> slopes;  // per event and variable; only where asked for
};

class Question {
public:
    // The four events, in this order in a reply.
    enum About : std::size_t { for_only = 0, against_only = 1, neither = 2 };  // of a claim
    enum Along : std::size_t { raw = 0, conditioned = 1, uncontested = 2 };    // of chains
    static constexpr std::size_t no_contradiction = 3;

    // About the first claim of the case.
    static std::unique_ptr<Question> about_claim(Case question, std::size_t node_budget);
    // That all claims of some chain hold; chains are of places in the case.
    static std::unique_ptr<Question> along(Case question, const std::vector<std::vector<CaseIndex>>& chains,
                                           std::size_t node_budget);
    // That some way through the web holds; the claims of the web are the first of the case, in the same order.
    static std::unique_ptr<Question> across(Case question, const ClaimWeb& web, std::size_t node_budget);
    Question(const Question&) = delete;
    Question& operator=(const Question&) = delete;

    // Where an exact reply with slopes is known and one chance differs from it, the figures are updated along the slope
    // (they are multilinear, so this is exact); otherwise they are asked again.
    Reply ask(const Assumptions& assumptions, const Profile& profile, std::uint64_t seed, bool slopes);

    const Case& its_case() const { return case_; }
    CaseLineage& lineage() { return lineage_; }
    // Of the decision diagrams: those of the figures, or the one that worlds are drawn from.
    std::size_t nodes() const { return figures_->diagram_nodes() + (sampler_ ? sampler_->condition_nodes() : 0); }
    bool exact() const { return figures_->exact(); }

private:
    explicit Question(Case question) : case_(std::move(question)), lineage_(case_) {}
    // `within`: the events that imply that there is no contradiction.
    void work_out(std::vector<weighing::Event> events, std::span<const std::size_t> within, std::size_t node_budget);
    std::optional<Reply> updated(const std::vector<double>& chances, bool slopes) const;

    Case case_;
    CaseLineage lineage_;
    std::unique_ptr<weighing::Figures> figures_;
    std::unique_ptr<weighing::Sampler> sampler_;  // where the figures are not exact
    std::vector<double> known_chances_;  // of known_
    std::optional<Reply> known_;         // exact, with slopes
};

}  // namespace saggar
