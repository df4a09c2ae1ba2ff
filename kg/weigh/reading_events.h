// When a reading is good, as an event: its source, its own chance, what it was copied from, what took it back.
//
// R2, R3: good iff its family and source are sound and it is well read. R4: a copy is good iff its root reading is good
// and its fidelity holds; a root that was not entered is one reading of the source copied, shared by all its copies on
// that point; a suspected copy is decided by a chance that is one fact about the two sources. Where a source says the
// opposite of its root, or takes a reading back, it was not copied on that point. R6: a reading that was taken back
// counts only where none of the later ones is good.
#pragma once

#include <map>
#include <tuple>
#include <vector>

#include "kg/weigh/case.h"
#include "kg/weigh/chances.h"
#include "kg/weigh/lineage.h"

namespace saggar {

class ReadingEvents {
public:
    using Event = weighing::Event;

    // Keeps references to all three; adds to the lineage and its terms as events are asked for.
    ReadingEvents(const Case& question, weighing::Lineage& lineage, std::vector<ChanceTerm>& terms);

    // Good and not taken back.
    Event counted(CaseIndex reading);
    // Any of the claim's readings on that side is good and not taken back; private parts are kept together.
    Event direct(CaseIndex claim, bool against);
    // A new chance of its own.
    Event fixed(double chance);

    // The source that a reading certainly goes back to; its own source where it is no certain copy.
    CaseIndex root_source(CaseIndex reading) const;
    // Whether the reading certainly copies a root that is entered on the same point, so that it adds nothing.
    bool adds_nothing(CaseIndex reading) const;

private:
    using Statement = std::tuple<CaseIndex, CaseIndex, bool>;  // source, claim, against
    using Readings = std::vector<CaseIndex>;

    const Readings& said(CaseIndex source, CaseIndex claim, bool against) const;
    Event add(ChanceTerm term);
    Event shared(std::map<CaseIndex, Event>& known, ChanceTerm term);
    Event family_sound(CaseIndex source);
    Event source_sound(CaseIndex source);
    Event chance_of_reading(CaseIndex source, double share);
    void find_sources_met_once();
    Event well_read(CaseIndex reading);
    Event own(CaseIndex reading);
    Event any_of_source(CaseIndex source, const Readings& readings);
    Event good(CaseIndex reading);
    Event entered_root(const Statement& root);
    Event unentered_root(const Statement& root);
    Event through_copies(const Statement& statement, Event own_event, double share);
    bool plain(CaseIndex reading) const;
    bool may_be_copy(CaseIndex reading) const;
    struct CopyPath {
        const CopyTerms* terms = nullptr;
        CaseIndex source = 0;
        bool entered = false;
    };
    std::vector<CopyPath> copy_paths(const Statement& statement) const;

    const Case& case_;
    weighing::Lineage& lineage_;
    std::vector<ChanceTerm>& terms_;
    std::map<Statement, Readings> said_;
    std::vector<char> met_once_;  // per source: in one reading or list only
    std::map<CaseIndex, Event> families_, sources_, well_read_, good_, counted_;
    std::map<ContentId, Event> lists_;
    std::map<Statement, Event> unentered_;
    std::map<std::pair<CaseIndex, CaseIndex>, Event> copied_;
    std::size_t depth_ = 0;
};

}  // namespace saggar
