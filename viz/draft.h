// Puts a diagram together from records of a graph: boxes for things, claims and sources, lines for claims and
// evidence, numbered citations, cautions. The pictures (neighbourhood.h, chain.h, argument.h, ...) say what goes in,
// the draft how it stands there.
//
// - A thing gets one box, however often it is asked for; order of first asking is order in the diagram.
// - Private records are passed over unless asked for, and counted in `left_out`.
// - Equal mentions of a source share a citation number; every citation is a full note, unless short notes are asked
//   for.
// A Draft is used by one thread and must not outlive its snapshot.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>

#include "kg/store/snapshot.h"
#include "queries/cite.h"
#include "queries/privacy.h"
#include "viz/diagram.h"
#include "viz/figures.h"

namespace saggar::viz {

struct DraftOptions {
    FigureOf figure;  // empty: no weights
    bool with_private = false;
    CiteStyle cite;
    std::string made_from;  // further words for the foot: profile, date asked for
    bool short_notes = false;  // later mentions of a source short; for pictures with hundreds of citations
};

class Draft {
public:
    Draft(const Snapshot& snapshot, DraftOptions options, std::string name);

    const Snapshot& snapshot() const { return snapshot_; }
    const DraftOptions& options() const { return options_; }
    Diagram& diagram() { return diagram_; }

    // Box of a thing. A source gets the outline and word of its kind of document.
    std::size_t entity(EntityId id);
    bool has(EntityId id) const { return entities_.count(id) != 0; }
    // Box of a claim as a whole sentence.
    std::size_t claim(const ClaimWithEvidence& claim);
    // A value (date, number, text) as text without a box; a box of its own at every call.
    std::size_t value(const ClaimRow& claim);

    // A line from subject to object with relation, weight and citations; boxes are added where missing. Nothing where
    // the claim is private and not asked for.
    std::optional<std::size_t> claim_line(const ClaimWithEvidence& claim);
    // A line from the source's box to `claim_node` with its stance and citation.
    std::optional<std::size_t> evidence_line(const EvidenceRow& row, std::size_t claim_node,
                                             std::optional<double> reliability);

    // Citation numbers.
    int cite(const EvidenceRow& row);
    int cite(const ListingRow& row);
    int cite(EntityId source);  // as a whole

    bool may_show(const EvidenceRow& row);
    bool may_show(const ClaimRow& row);
    // A claim known from private evidence alone is itself private.
    bool may_show(const ClaimWithEvidence& claim);
    bool may_show(EntityId id);
    bool may_show(const ListingRow& row);
    bool may_show(const ArgumentRow& row);
    bool may_show(const RulingRow& row) const { return privacy_.may_show(row); }

    // Closes the diagram: title and description, what was left out, the foot.
    Diagram finish(std::string title, std::string description);

private:
    int cite_text(const CitedText& full, const CitedText& brief, EntityId source);
    void add_caution(EntityId id, std::size_t node);
    void describe_source(EntityId id, DiagramNode& node);

    bool counted(bool shown, const std::string& name);
    bool is_ruled(ClaimRef claim) const;

    const Snapshot& snapshot_;
    DraftOptions options_;
    Privacy privacy_;
    Diagram diagram_;
    std::map<EntityId, std::size_t> entities_;
    std::map<ClaimRef, std::size_t> claims_, claim_lines_;
    std::map<std::string, int> citations_;  // by full note
    std::set<EntityId> cited_sources_;
    std::set<std::string> private_seen_;
};

// The usual caution about old glazes and colours (design: used wherever a treatment or glaze flagged hazardous is
// shown).
extern const char* const kGlazeCaution;

}  // namespace saggar::viz
