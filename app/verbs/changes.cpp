#include "queries/changes.h"

#include <fmt/format.h>

#include "app/json_out.h"
#include "app/session.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"
#include "queries/changes_json.h"
#include "queries/privacy.h"
#include "queries/rulings.h"
#include "queries/statement.h"

namespace saggar::app {
namespace {

constexpr std::size_t most_causes_of_move = 8;  // shown for a claim

class ChangeWriter {
public:
    ChangeWriter(Call& call, const Snapshot& before, const Snapshot& after)
        : call_(call), before_(before), after_(after), privacy_before_(before, call.with_private), privacy_after_(after, call.with_private) {}

    // False: a private claim.
    bool write(const ChangedClaim& one) {
        const Snapshot& graph = one.after ? after_ : before_;
        Privacy& privacy = one.after ? privacy_after_ : privacy_before_;
        const auto row = graph.claim(one.claim);
        if (!row || !privacy.may_show(*row)) return false;
        *call_.out << fmt::format("{} -> {}  ", support(one.before, one.support_before), support(one.after, one.support_after))
                   << wrap_with_tail(statement(graph, row->claim), "claim:" + row->claim.id.brief(), call_.layout, 18)
                   << '\n';
        std::size_t shown = 0;
        for (const ChangeCause& cause : one.causes) {
            if (shown++ == most_causes_of_move) {
                *call_.out << fmt::format("    and {} more\n", one.causes.size() - most_causes_of_move);
                break;
            }
            *call_.out << "    "
                       << (cause.record.empty() ? wrap(words(cause), call_.layout.width, 6)
                                                : wrap_with_tail(words(cause), cause.record.brief(), call_.layout, 6))
                       << '\n';
        }
        return true;
    }

private:
    static std::string support(const std::optional<Masses>& masses, double figure) {
        return masses ? figure_text(figure, 0) : "none ";
    }

    std::string record(const ContentId& id, bool was_there_before) {
        const Snapshot& graph = was_there_before ? before_ : after_;
        Privacy& privacy = was_there_before ? privacy_before_ : privacy_after_;
        if (std::string text = record_words(graph, privacy, id); !text.empty()) return text;
        const auto place = graph.place_of(id);
        if (!place) return "a record";
        const auto claim = graph.claim(place->claim);
        if (!claim || !privacy.may_show(*claim)) return "a private record";
        const std::string about = statement(graph, claim->claim);
        return place->type == RecordPlace::Type::ruling ? "a ruling on: " + about : "the claim: " + about;
    }

    std::string words(const ChangeCause& cause) {
        switch (cause.what) {
            case ChangeCause::What::added:
                return fmt::format("entry {} added {}", cause.entry, record(cause.record, false));
            case ChangeCause::What::withdrawn:
                return fmt::format("entry {} withdrew {}{}", cause.entry, record(cause.record, true),
                                   cause.reason.empty() || !privacy_after_.may_tell(cause.record) ? "" : " (" + cause.reason + ")");
            case ChangeCause::What::joined:
                return "bears on it now: " + record(cause.record, false);
            case ChangeCause::What::left:
                return "bears on it no longer: " + record(cause.record, true);
            case ChangeCause::What::described:
                return "described anew: " + (privacy_after_.may_show(cause.source) ? after_.label_of(cause.source) : "a private source");
            case ChangeCause::What::document:
                return "the vocabulary or the weighing profile was changed";
        }
        return {};
    }

    Call& call_;
    const Snapshot& before_;
    const Snapshot& after_;
    Privacy privacy_before_;
    Privacy privacy_after_;
};

int run_changes(Call& call) {
    const Session session = open_to_read(call);
    const Snapshot& after = *session.snapshot;
    if (call.get("--since").empty())
        throw UsageFault("changes since when?", "give an entry or a date with --since; see `saggar history`");
    const std::uint64_t since = entry_named(session.store, call.get("--since"), "--since");
    if (since > after.entry()) throw UsageFault("--since comes after --as-of", "give an earlier entry");
    const auto before = session.store.snapshot(since);
    const double least = call.number("--least", .01, 0, 1);
    const ChangesAnswer answer = changes(*before, after, least);
    if (call.json) {
        print(*call.out, to_json(answer, *before, after, call.with_private));
        return fine;
    }
    if (answer.claims.empty()) {
        *call.out << fmt::format("since entry {} no claim moved by more than {:g}\n", answer.from, least);
        return fine;
    }
    *call.out << fmt::format("since entry {} {} by more than {:g}\n", answer.from,
                             answer.claims.size() == 1 ? "1 claim moved" : fmt::format("{} claims moved", answer.claims.size()), least);
    ChangeWriter writer(call, *before, after);
    std::size_t hidden = 0;
    for (const ChangedClaim& one : answer.claims)
        if (!writer.write(one)) ++hidden;
    if (hidden) *call.out << fmt::format("({} of them private; see with --with-private)\n", hidden);
    return fine;
}

}  // namespace

Verb changes_verb() {
    return {"changes",
            "which claims' supports moved since then, by how much and why",
            {},
            {{"--since", "ENTRY|DATE", "the earlier state (required)"},
             {"--least", "DIFFERENCE", "only what moved by more than this (.01)"}},
            run_changes,
            "The later state is now, or what --as-of says. A claim that was not on record counts as supported 0."};
}

}  // namespace saggar::app
