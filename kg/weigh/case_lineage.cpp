#include "kg/weigh/case_lineage.h"

#include <algorithm>

namespace saggar {

using weighing::Event;

CaseLineage::CaseLineage(const Case& question) : case_(question), readings_(question, lineage_, terms_) {
    supported_.assign(question.claims.size(), Event::never());
    refuted_.assign(question.claims.size(), Event::never());
    add_direct_and_steps();
    add_support();
    add_refutation();
}

void CaseLineage::add_direct_and_steps() {
    for (CaseIndex claim = 0; claim < case_.claims.size(); ++claim) {
        const bool asked = !case_.claims[claim].bystander;
        direct_for_.push_back(asked ? readings_.direct(claim, false) : Event::never());
        direct_against_.push_back(asked ? readings_.direct(claim, true) : Event::never());
        steps_.emplace_back();
        for (const CaseArgument& argument : case_.claims[claim].arguments) {
            steps_.back().push_back(readings_.fixed(argument.strength));
        }
    }
}

void CaseLineage::add_support() {
    for (const auto& group : groups_by_support(case_)) solve_circle(group);
}

// Round n holds what n nested arguments can show, so as many rounds as claims are enough; all start from nothing.
void CaseLineage::solve_circle(const std::vector<CaseIndex>& circle) {
    for (std::size_t round = 0; round < circle.size(); ++round) {
        std::vector<Event> next;
        for (const CaseIndex claim : circle) next.push_back(support_once(claim));
        bool changed = false;
        for (std::size_t i = 0; i < circle.size(); ++i) {
            changed = changed || next[i] != supported_[circle[i]];
            supported_[circle[i]] = next[i];
        }
        if (!changed) break;
    }
}

Event CaseLineage::support_once(CaseIndex claim) {
    std::vector<Event> ways{direct_for_[claim]};
    const auto& arguments = case_.claims[claim].arguments;
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        if (!arguments[i].against) ways.push_back(argument_holds(claim, i));
    }
    return lineage_.any_of(ways);
}

Event CaseLineage::argument_holds(CaseIndex claim, std::size_t argument) {
    std::vector<Event> parts;
    for (const CaseIndex premise : case_.claims[claim].arguments[argument].premises) parts.push_back(supported_[premise]);
    parts.push_back(steps_[claim][argument]);
    return lineage_.all_of(parts);
}

void CaseLineage::add_refutation() {
    std::vector<Event> consistent;
    for (CaseIndex claim = 0; claim < case_.claims.size(); ++claim) {
        const CaseClaim& one = case_.claims[claim];
        if (one.bystander) continue;
        std::vector<Event> ways{direct_against_[claim]};
        for (std::size_t i = 0; i < one.arguments.size(); ++i) {
            if (one.arguments[i].against) ways.push_back(argument_holds(claim, i));
        }
        for (const CaseRival& rival : one.rivals) {
            std::vector<Event> parts{supported_[rival.claim]};
            for (const CaseIndex identity : rival.identities) parts.push_back(supported_[identity]);
            ways.push_back(lineage_.all_of(parts));
        }
        refuted_[claim] = lineage_.any_of(ways);
        consistent.push_back(!contradiction(claim));
    }
    consistent_ = lineage_.all_of(consistent);
}

std::vector<Event> CaseLineage::order() const {
    std::vector<Event> order;
    std::vector<char> met(case_.claims.size(), 0);
    std::vector<std::pair<CaseIndex, bool>> stack;  // a claim, and whether those before it have been met
    for (CaseIndex first = 0; first < case_.claims.size(); ++first) {
        stack.emplace_back(first, false);
        while (!stack.empty()) {
            const auto [claim, ready] = stack.back();
            stack.pop_back();
            if (ready) {
                order.push_back(supported_[claim]);
                order.push_back(refuted_[claim]);
                continue;
            }
            if (met[claim]) continue;
            met[claim] = 1;
            stack.emplace_back(claim, true);
            for (const CaseArgument& argument : case_.claims[claim].arguments) {
                for (const CaseIndex premise : argument.premises) stack.emplace_back(premise, false);
            }
        }
    }
    return order;
}

namespace {

class SupportGroups {
public:
    explicit SupportGroups(const Case& question)
        : case_(question), order_(question.claims.size(), 0), low_(question.claims.size(), 0), open_(question.claims.size(), 0) {
        for (const CaseClaim& claim : question.claims) {
            rests_on_.emplace_back();
            for (const CaseArgument& argument : claim.arguments) {
                if (!argument.against) rests_on_.back().insert(rests_on_.back().end(), argument.premises.begin(), argument.premises.end());
            }
        }
    }

    std::vector<std::vector<CaseIndex>> find() {
        for (CaseIndex claim = 0; claim < case_.claims.size(); ++claim) {
            if (order_[claim] == 0) walk(claim);
        }
        return std::move(groups_);
    }

private:
    struct Frame {
        CaseIndex claim = 0;
        std::size_t next = 0;
    };

    void enter(CaseIndex claim) {
        order_[claim] = low_[claim] = ++clock_;
        open_[claim] = 1;
        waiting_.push_back(claim);
        stack_.push_back({claim, 0});
    }

    void walk(CaseIndex start) {
        enter(start);
        while (!stack_.empty()) {
            const CaseIndex claim = stack_.back().claim;
            if (stack_.back().next < rests_on_[claim].size()) {
                const CaseIndex premise = rests_on_[claim][stack_.back().next++];
                if (order_[premise] == 0) {
                    enter(premise);
                } else if (open_[premise]) {
                    low_[claim] = std::min(low_[claim], order_[premise]);
                }
                continue;
            }
            stack_.pop_back();
            if (!stack_.empty()) low_[stack_.back().claim] = std::min(low_[stack_.back().claim], low_[claim]);
            if (low_[claim] == order_[claim]) close(claim);
        }
    }

    void close(CaseIndex first) {
        std::vector<CaseIndex> group;
        do {
            group.push_back(waiting_.back());
            open_[waiting_.back()] = 0;
            waiting_.pop_back();
        } while (group.back() != first);
        std::sort(group.begin(), group.end());
        groups_.push_back(std::move(group));
    }

    const Case& case_;
    std::vector<std::vector<CaseIndex>> rests_on_;
    std::vector<std::uint32_t> order_, low_;
    std::vector<char> open_;
    std::vector<CaseIndex> waiting_;
    std::vector<Frame> stack_;
    std::vector<std::vector<CaseIndex>> groups_;
    std::uint32_t clock_ = 0;
};

}  // namespace

std::vector<std::vector<CaseIndex>> groups_by_support(const Case& question) { return SupportGroups(question).find(); }

}  // namespace saggar
