// Reads a dossier from the graph.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "kg/weigh/profile.h"
#include "kg/weigh/weigher.h"
#include "queries/cite_graph.h"
#include "queries/statement.h"
#include "viz/argument.h"
#include "viz/dossier/dossier.h"
#include "viz/dossier/pictures.h"
#include "viz/dossier/questions.h"
#include "viz/draft.h"
#include "viz/notation.h"
#include "viz/text/clean.h"

namespace saggar::viz {

namespace {

// The claim as a sentence, dates in words.
std::string sentence_of(const Snapshot& snapshot, const ClaimRow& claim, const CiteStyle& style) {
    ClaimRow spoken = claim;
    if (spoken.object_type == Value::Type::date) spoken.object_text = date_in_words(spoken.object_text, style.dates);
    spoken.when = date_in_words(spoken.when, style.dates);
    return statement(snapshot, spoken) + ".";
}

std::string ruling_of(const Draft& filter, ClaimRef claim, const CiteStyle& style) {
    static constexpr const char* kDecisions[] = {"accepted", "rejected", "left open"};
    std::string text;
    for (const auto& row : filter.snapshot().rulings(claim)) {
        if (!filter.may_show(row)) continue;
        text += fmt::format("{}{}{}{}{}", text.empty() ? "" : " ", kDecisions[static_cast<int>(row.decision)],
                            row.decided_by.empty() ? "" : " by " + row.decided_by,
                            row.decided_on.empty() ? "" : ", " + date_in_words(row.decided_on, style.dates),
                            row.reasons.empty() ? "" : ": " + row.reasons);
        if (!text.ends_with('.')) text += '.';
    }
    return text;
}

std::string kept_in_words(const Source& source) {
    std::string text;
    for (const auto* part : {&source.archive, &source.place}) {
        if (!part->empty() && text.find(*part) == std::string::npos) text += (text.empty() ? "" : ", ") + *part;
    }
    return text;
}

// The same text without signs that cannot be shown. Blanks at the ends of a run are kept: they stand between words.
CitedText cleaned(const CitedText& text) {
    CitedText result;
    for (const auto& run : text.runs()) {
        std::string clean = clean_line(run.text);
        if (run.text.starts_with(' ')) clean.insert(0, " ");
        if (run.text.size() > 1 && run.text.ends_with(' ')) clean += ' ';
        if (run.italic) {
            result.add_italic(clean);
        } else {
            result.add(clean);
        }
    }
    return result;
}

class Gatherer {
public:
    Gatherer(const Snapshot& snapshot, Weigher& weigher, EntityId thing, const DossierOptions& options)
        : snapshot_(snapshot),
          weigher_(weigher),
          thing_(thing),
          options_(options),
          notes_(options.cite),
          filter_(snapshot, draft_options(), "dossier") {}

    Dossier run() {
        describe();
        filter_.entity(thing_);
        collect();
        write_sections();
        write_disputes();
        write_unknown();
        PictureRequest request{snapshot_, weigher_, thing_, dispute_claims_, options_, draft_options()};
        dossier_.pictures = pictures_for(request);
        close();
        return std::move(dossier_);
    }

private:
    DraftOptions draft_options() const {
        DraftOptions result;
        result.figure = figures_of(weigher_);
        result.with_private = options_.with_private;
        result.cite = options_.cite;
        result.made_from =
            "profile " + weigher_.profile().title() + (options_.as_of.empty() ? "" : ", as of " + options_.as_of);
        return result;
    }

    void describe() {
        dossier_.key = snapshot_.key_of(thing_);
        dossier_.title = snapshot_.label_of(thing_);
        const Kind* kind = snapshot_.vocabulary().find_kind(snapshot_.kind_of(thing_));
        dossier_.kind = kind == nullptr ? std::string(snapshot_.kind_of(thing_)) : kind->label;
        const auto entity = snapshot_.entity(thing_);
        if (!entity) return;
        dossier_.remark = entity->remark;
        for (const auto& name : entity->also) dossier_.also += (dossier_.also.empty() ? "" : "; ") + name.text;
    }

    void collect() {
        std::set<ClaimRef> seen;
        const auto take = [&](const ClaimWithEvidence& claim) {
            if (!seen.insert(claim.claim.ref).second || !filter_.may_show(claim)) return;
            if (claim.claim.has_entity_object())
                filter_.entity(claim.claim.ref.subject == thing_ ? claim.claim.object : claim.claim.ref.subject);
            claims_.push_back(claim);
        };
        for (const auto& claim : snapshot_.claims_of(thing_)) take(claim);
        for (const auto ref : snapshot_.claims_about(thing_)) {
            if (const auto claim = snapshot_.claim(ref)) take(*claim);
        }
    }

    // A claim that is only denied is told as its denial, with the weight of the denial.
    std::string weight_of(ClaimRef claim, bool denied, bool& disputed) {
        disputed = figure_(claim).disputed;
        const Masses masses = denied ? weigher_.masses(claim).of_denial() : weigher_.masses(claim);
        const Clarity clarity = clarity_of(masses.both, weigher_.profile());
        const auto support = masses.support(), possibility = masses.possibility();
        if (clarity == Clarity::contradictory || clarity == Clarity::no_figure || !support || !possibility) {
            return "no single figure: the sources contradict each other";
        }
        // Little support is not evidence against: the words for likelihood are used only where the evidence leans one
        // way.
        const bool leans = *support >= 0.5 || *possibility <= 0.5;
        if (!leans)
            return fmt::format("open: support {}, possibility {}", weight_text(*support), weight_text(*possibility));
        return fmt::format("{}, {}", weigher_.profile().words().words_for(*support), weight_text(*support));
    }

    void name_group(const ClaimRow& claim, DossierSentence& sentence) const {
        const auto words = relation_words(snapshot_, claim.ref.relation);
        const bool forward = claim.ref.subject == thing_;
        const auto limits = limits_words(snapshot_, claim);
        sentence.group =
            forward ? snapshot_.label_of(thing_) + " " + words : "\u2026 " + words + " " + snapshot_.label_of(thing_);
        sentence.item = forward ? object_words(snapshot_, claim) : snapshot_.label_of(claim.ref.subject);
        if (!limits.empty()) sentence.item += " (" + limits + ")";
    }

    DossierSentence sentence(const ClaimWithEvidence& claim) {
        DossierSentence result;
        result.key = "claim:" + claim.claim.id.full();
        for (const auto& row : claim.evidence) {
            if (!filter_.may_show(row)) continue;
            auto& side = row.stance == Stance::in_favour ? result.cited_for : result.cited_against;
            side.push_back(notes_.number_of(source_of(snapshot_, row.source), row.at, row.quote));
        }
        const bool denied = result.cited_for.empty() && !result.cited_against.empty();
        result.weight = weight_of(claim.claim.ref, denied, result.disputed);
        result.text = (denied ? "It is denied that " : "") + sentence_of(snapshot_, claim.claim, options_.cite);
        name_group(claim.claim, result);
        if (denied) {
            result.group = "It is denied that " + result.group;
            std::swap(result.cited_for, result.cited_against);
        }
        result.ruling = ruling_of(filter_, claim.claim.ref, options_.cite);
        return result;
    }

    void write_sections() {
        for (const auto question : kQuestions) {
            DossierSection section;
            section.heading = heading_of(question);
            for (const auto& claim : claims_) {
                if (question_of(snapshot_, claim.claim, thing_) == question)
                    section.sentences.push_back(sentence(claim));
            }
            if (!section.sentences.empty()) dossier_.sections.push_back(std::move(section));
        }
    }

    // Rivals under a relation of which there is at most one, and claims whose own evidence is contested.
    void write_disputes() {
        std::set<ClaimRef> done;
        for (const auto& claim : claims_) {
            if (!done.insert(claim.claim.ref).second) continue;
            std::vector<ClaimWithEvidence> views{claim};
            const auto* relation =
                snapshot_.vocabulary().find_relation(snapshot_.relation_name(claim.claim.ref.relation));
            if (relation != nullptr && relation->at_most_one) {
                for (const auto& other : snapshot_.claims_of(claim.claim.ref.subject, claim.claim.ref.relation)) {
                    const bool rival = other.claim.ref != claim.claim.ref && other.claim.scope == claim.claim.scope &&
                                       other.claim.when == claim.claim.when;
                    if (rival && filter_.may_show(other) && done.insert(other.claim.ref).second) views.push_back(other);
                }
            }
            if (views.size() == 1 && !figure_(claim.claim.ref).disputed) continue;
            DossierDispute dispute;
            dispute.title = snapshot_.label_of(claim.claim.ref.subject) + " " +
                            relation_words(snapshot_, claim.claim.ref.relation) + " \u2026";
            if (views.size() == 1) dispute.title = statement(snapshot_, claim.claim) + "?";
            std::vector<ClaimRef> refs;
            for (const auto& view : views) {
                dispute.views.push_back(sentence(view));
                dispute.views.back().weight += "; " + masses_in_words(weigher_.masses(view.claim.ref));
                refs.push_back(view.claim.ref);
            }
            dossier_.disputes.push_back(std::move(dispute));
            dispute_claims_.push_back(std::move(refs));
        }
    }

    void write_unknown() {
        std::set<RelationId> used;
        for (const auto& claim : claims_) {
            if (claim.claim.ref.subject == thing_) used.insert(claim.claim.ref.relation);
        }
        for (const auto& relation : snapshot_.vocabulary().relations()) {
            if (relation.identity || relation.any_from || !relation.takes_subject(snapshot_.kind_of(thing_))) continue;
            const auto id = snapshot_.relation_id(relation.name);
            if (id && used.count(id) != 0) continue;
            dossier_.unknown.push_back(
                fmt::format("{} {} \u2026", dossier_.title, relation.label.empty() ? relation.name : relation.label));
        }
    }

    void close() {
        for (const auto& note : notes_.texts()) dossier_.notes.push_back(cleaned(note));
        for (auto& source : notes_.bibliography()) {
            DossierSource entry;
            entry.entry = cleaned(bibliography_entry(source, options_.cite));
            entry.kept = kept_in_words(source);
            entry.source = std::move(source);
            dossier_.sources.push_back(std::move(entry));
        }
        Diagram filtered = filter_.finish({}, {});
        dossier_.cautions = std::move(filtered.cautions);
        dossier_.left_out = std::move(filtered.left_out);
        add_cautions_of_kind();
        dossier_.colophon.push_back(
            fmt::format("Made from graph entry {}{}.", snapshot_.entry(),
                        options_.as_of.empty() ? "" : ", and speaks for what was known as of " + options_.as_of));
        dossier_.colophon.push_back(fmt::format(
            "Weights follow the profile {}. Its numbers are conventions, not facts.", weigher_.profile().title()));
        dossier_.colophon.emplace_back(
            "A weight is support: how far the evidence argues for a claim. It is not a probability that the claim is "
            "true.");
        if (!weigher_.profile().words().source.empty()) {
            dossier_.colophon.push_back(
                fmt::format("Likelihood words are those of one scale: {}.", weigher_.profile().words().source));
        }
    }

    void add_cautions_of_kind() {
        bool pieces = snapshot_.kind_of(thing_) == "piece";
        for (const auto& claim : claims_)
            pieces = pieces || question_of(snapshot_, claim.claim, thing_) == Question::pieces;
        if (pieces) {
            dossier_.cautions.emplace_back(
                "Nothing here is an appraisal, an authentication or a statement of legal title; ask a licensed "
                "appraiser and mind the local law.");
        }
    }

    const Snapshot& snapshot_;
    Weigher& weigher_;
    EntityId thing_;
    const DossierOptions& options_;
    Dossier dossier_;
    Notes notes_;
    Draft filter_;  // decides what may be shown, collects cautions
    FigureOf figure_ = figures_of(weigher_);
    std::vector<ClaimWithEvidence> claims_;
    std::vector<std::vector<ClaimRef>> dispute_claims_;
};

}  // namespace

std::vector<DossierGroup> groups_of(const DossierSection& section) {
    std::map<std::string, std::size_t> sizes;
    for (const auto& sentence : section.sentences) ++sizes[sentence.group];
    std::vector<DossierGroup> groups;
    std::map<std::string, std::size_t> placed;
    for (const auto& sentence : section.sentences) {
        const bool grouped = !sentence.group.empty() && sizes[sentence.group] >= kGroupFrom;
        if (!grouped) {
            groups.push_back({{}, {&sentence}});
            continue;
        }
        const auto [place, is_new] = placed.try_emplace(sentence.group, groups.size());
        if (is_new) groups.push_back({sentence.group, {}});
        groups[place->second].sentences.push_back(&sentence);
    }
    return groups;
}

Dossier gather_dossier(const Snapshot& snapshot, Weigher& weigher, EntityId thing, const DossierOptions& options) {
    return Gatherer(snapshot, weigher, thing, options).run();
}

}  // namespace saggar::viz
