// One cell of a comparison: what the evidence says of one thing having one object under one relation.
//
// Six states that are never mixed up. From the four masses of the claim (masses.h), P being the profile's "supported":
//   has        support P or more, hardly contradictory
//   limited    the same, but only for a buyer, line or market; nothing without that limit is supported
//   never      possibility 1 - P or less: denied, or a list of everything leaves it out ("there never was one")
//   disputed   evidence on both sides: the contradictory mass is what the profile calls contested, or more
//   weak       something is on record, too little for either
//   unknown    no evidence either way ("none is known")
// A disputed cell on which a ruling stands that is not stale is has or never, and says that it is by ruling; the masses
// stay what they are. A denial for one buyer or one year denies nothing else, so it leaves the cell unknown.
//
// One reading may decide: where everything that speaks to the claim itself is on one side, and one reading or list by itself has
// the reliability P or more, the cell is has (or never), whatever its further arguments rest on, and however that is disputed.
// Such a cell is worked out only where figures are asked for.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

#include "kg/store/snapshot.h"
#include "kg/weigh/aliases.h"
#include "kg/weigh/gather.h"
#include "kg/weigh/weigher.h"
#include "queries/privacy.h"

namespace saggar {

struct Relation;

// A mass, support or share at or below it is rounding, and stands for none.
constexpr double least_mass = 1e-12;

enum class Standing : std::uint8_t { has, limited, never, disputed, weak, unknown };
// "has", "limited", "never", "disputed", "weak", "unknown".
std::string word_for(Standing standing);
Standing standing_of_masses(const Masses& masses, const Profile& profile, double supported);

// For which side the reading counts: hedges and silences turn it round (R5, R7 of the weighing). Nothing where it says nothing.
std::optional<Stance> counts_for(const EvidenceRow& reading, const Profile& profile);

// A reading or list behind a cell, to be cited.
struct CellCitation {
    EntityId source;
    ContentId record;  // evidence or list
    bool is_list = false;
    double reliability = 0;  // of the source
};

struct Cell {
    Standing standing = Standing::unknown;
    std::optional<Masses> masses;  // of the claim that decides; nothing where they were not needed
    std::vector<ClaimRef> claims;  // that may be shown; without limits first
    std::string limits;            // of a limited cell: "for Galley Light"
    bool by_ruling = false;
    bool has_hidden = false;       // a private claim was passed over
    std::vector<CellCitation> cited_for, cited_against;  // the most reliable source first, each source once
    bool counts() const { return standing == Standing::has || standing == Standing::limited; }
};

// A thing under all its names (accepted identities), the one it is called by first.
struct NamedThing {
    EntityId id;
    std::vector<EntityId> names;
};

// One thread; keeps references. Sources and lists are remembered.
class CellReader {
public:
    // `figures`: every cell gets its masses. Shares the identities, which are remembered.
    CellReader(const Snapshot& snapshot, Weigher& weigher, Privacy& privacy, Aliases& aliases, double supported, bool figures);

    // `asked`: subject, relation and object without scope and time, keys of the names they are called by. `claims`: all that
    // anybody has made of it under any name.
    Cell read(const Claim& asked, const std::vector<ClaimWithEvidence>& claims, const NamedThing& subject);
    // What speaks for a claim, or against it, and may be shown: as the citations of a cell.
    std::vector<CellCitation> cited(ClaimRef claim, Stance stance);
    // The masses of a claim. Where one reading and nothing else speaks to it, they are read off and not worked out.
    Masses masses_of(const ClaimWithEvidence& claim);
    // The same, but where all that speaks to the claim is on one side its most reliable reading stands for the rest.
    Masses estimate_of(const ClaimWithEvidence& claim);

private:
    struct SourceKnown {
        double reliability = 0;  // 0: no basis
        bool is_copy = false;
    };
    struct Group {
        Claim claim;
        std::vector<const ClaimWithEvidence*> made;
        std::optional<Masses> masses;
        Standing standing = Standing::unknown;
        double support() const { return masses ? masses->support().value_or(0) : 0; }
    };
    // Lists of everything that may be shown; and whether there are others.
    struct Lists {
        std::vector<ListingRow> shown;
        bool hidden = false;
    };
    const Lists& lists(EntityId subject, const std::string& relation);
    const Relation* relation_of(const std::string& name) const;
    bool has_other_names(EntityId thing);
    // Nothing where it has to be worked out.
    std::optional<Standing> decided_by_one(const Group& group, const NamedThing& subject);
    std::optional<Masses> from_readings(const ClaimWithEvidence& claim, bool estimate);
    double share_of(const EvidenceRow& row);
    EntityId object_of(const Group& group);
    bool stands_itself(const Group& group, const NamedThing& subject);
    bool may_be_ruled_out(const Claim& asked, const NamedThing& subject);
    void weigh(Group& group, const NamedThing& subject);
    void rule(Cell& cell, const Group& group);
    void cite(Cell& cell, const Group& group, const NamedThing& subject);
    void sort(std::vector<CellCitation>& citations) const;
    void cite_claims(Cell& cell, const std::vector<const ClaimWithEvidence*>& claims);
    void cite_rivals(Cell& cell, const Claim& asked, const NamedThing& subject);
    void add(std::vector<CellCitation>& into, EntityId source, const ContentId& record, bool is_list);
    const SourceKnown& source(EntityId id);

    const Snapshot& snapshot_;
    Weigher& weigher_;
    Privacy& privacy_;
    double supported_;
    bool figures_;
    Aliases& aliases_;
    std::optional<Gatherer> gatherer_;
    std::map<std::pair<EntityId, std::string>, Lists> lists_;
    std::unordered_map<EntityId, SourceKnown> sources_;
    std::string object_key_;
    EntityId object_;
};

}  // namespace saggar
