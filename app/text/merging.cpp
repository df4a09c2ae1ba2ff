#include "app/text/merging.h"

#include <fmt/format.h>

#include <algorithm>

#include "app/json_out.h"
#include "app/loading.h"
#include "queries/privacy.h"
#include "queries/rulings.h"
#include "queries/statement.h"

namespace saggar::app {
namespace {

constexpr std::size_t most_told = 10;  // of each kind, in text

std::string things(std::uint64_t count, const char* one, const char* many) {
    return fmt::format("{} {}", count, count == 1 ? one : many);
}

// Ours may name a private thing beside theirs.
bool may_tell_field(Privacy& privacy, const FieldDifference& one) {
    for (const std::string* const text : {&one.key, &one.field, &one.ours, &one.theirs})
        for (std::size_t at = 0; at < text->size(); ++at) {  // word by word: lists of sources are told as "source:a, source:b"
            const std::size_t end = std::min(text->find_first_of(", ", at), text->size());
            if (!privacy.may_show_key(std::string_view(*text).substr(at, end - at))) return false;
            at = end;
        }
    return true;
}

class MergeWriter {
public:
    MergeWriter(Call& call, const MergeTold& told)
        : call_(call), told_(told), report_(told.report), privacy_(told.graph, call.with_private) {}

    void write() {
        write_problems(*call_.err, report_.problems);
        head();
        if (report_.problems.any_error()) return;
        words();
        fields();
        withdrawn();
        rulings();
        conflicts();
        if (!told_.dry_run && report_.first_entry)
            *call_.out << call_.layout.faint(fmt::format("    take it all back with: saggar withdraw --entry {} --reason …", entries())) << '\n';
    }

private:
    std::string entries() const {
        return report_.first_entry == report_.last_entry ? fmt::format("{}", report_.first_entry)
                                                         : fmt::format("{}..{}", report_.first_entry, report_.last_entry);
    }

    void head() {
        *call_.out << told_.name << ": ";
        const std::string counts = counts_in_words(report_.counts);
        if (report_.problems.any_error()) {
            *call_.out << fmt::format("{}; nothing was kept\n", things(report_.problems.errors(), "error", "errors"));
            return;
        }
        if (told_.dry_run) {
            *call_.out << (counts.empty() ? "nothing new" : "would add " + counts) << '\n';
        } else if (!report_.first_entry) {
            *call_.out << "nothing new\n";
        } else {
            *call_.out << (report_.first_entry == report_.last_entry ? "entry " : "entries ") << entries() << ": "
                       << (counts.empty() ? "no new record" : counts) << '\n';
        }
        line(fmt::format("{} in {} read{}; {} on record here already", things(report_.their_records, "record", "records"),
                         things(report_.their_entries, "entry", "entries"), report_.whole ? "" : " (a part of their history)", report_.known));
        if (report_.recorded_too) line(things(report_.recorded_too, "reading was", "readings were") + " taken down by both; both are named");
        if (report_.pictures) line(things(report_.pictures, "picture", "pictures") + " copied");
        if (report_.left_out) line(things(report_.left_out, "private record", "private records") + " left out (see --with-private)");
        if (report_.unknown_withdrawals)
            line(things(report_.unknown_withdrawals, "withdrawal", "withdrawals") + " of records that this graph never had");
    }

    void line(const std::string& text, const std::string& id = "", std::size_t indent = 4) {
        *call_.out << std::string(indent, ' ') << wrap(text, call_.layout.width, indent + 2);
        if (!id.empty()) *call_.out << "  " << call_.layout.faint(id);
        *call_.out << '\n';
    }
    void more(std::size_t count) {
        if (count > most_told) line(fmt::format("and {} more; see them all with --json", count - most_told), "", 8);
    }

    void words() {
        for (const std::string& word : report_.words_taken) line("word taken into the vocabulary: " + word);
        if (report_.words.empty()) return;
        *call_.out << call_.layout.strong("words that differ") << " (this graph's count)\n";
        for (std::size_t i = 0; i < report_.words.size() && i < most_told; ++i) {
            const WordDifference& one = report_.words[i];
            line(fmt::format("{} \"{}\" {}", one.what, one.name, one.how));
        }
        more(report_.words.size());
    }

    void fields() {
        std::size_t shown = 0;
        for (const FieldDifference& one : report_.fields) {
            if (!may_tell_field(privacy_, one)) continue;
            if (shown++ == 0) *call_.out << call_.layout.strong("descriptions that differ") << " (this graph's stays)\n";
            if (shown > most_told) continue;
            line(fmt::format("{}, {}: \"{}\" here, \"{}\" there", one.key, one.field, one.ours, one.theirs));
        }
        more(shown);
    }

    std::string about(const ContentId& id) {
        const auto place = told_.graph.place_of(id);
        const auto claim = place ? told_.graph.claim(place->claim) : std::nullopt;
        if (!claim) return "a claim that is withdrawn";
        return privacy_.may_show(*claim) ? statement(told_.graph, claim->claim) : "a private claim";
    }

    void withdrawn() {
        if (!report_.withdrawn.empty()) *call_.out << call_.layout.strong("withdrawn there, and now here") << '\n';
        for (std::size_t i = 0; i < report_.withdrawn.size() && i < most_told; ++i) {
            const MergeWithdrawal& one = report_.withdrawn[i];
            const bool told = !one.reason.empty() && privacy_.may_tell(one.record);
            line(about(one.record) + (told ? " (" + one.reason + ")" : ""), one.record.brief());
        }
        more(report_.withdrawn.size());
        if (!report_.still_withdrawn.empty()) *call_.out << call_.layout.strong("withdrawn here, in force there; it stays withdrawn") << '\n';
        for (std::size_t i = 0; i < report_.still_withdrawn.size() && i < most_told; ++i)
            line(about(report_.still_withdrawn[i]), report_.still_withdrawn[i].brief());
        more(report_.still_withdrawn.size());
    }

    // "accepted by Ann, 2026-01-02"
    std::string ruling_words(const ContentId& claim, const ContentId& id) {
        const auto ref = told_.graph.find_claim(claim);
        if (ref)
            for (const RulingRow& row : told_.graph.rulings(*ref))
                if (row.id == id && privacy_.may_show(row))
                    return word_for(row.decision) + (row.decided_by.empty() ? "" : " by " + row.decided_by) +
                           (row.decided_on.empty() ? "" : ", " + row.decided_on);
        return "a ruling";
    }

    void rulings() {
        if (report_.rulings.empty()) return;
        *call_.out << call_.layout.strong("rulings that differ") << " (both stand; see `saggar disputes --kind rulings`)\n";
        for (std::size_t i = 0; i < report_.rulings.size() && i < most_told; ++i) {
            const MergeRulings& one = report_.rulings[i];
            line(about(one.claim) + ": " + ruling_words(one.claim, one.ours) + "; there " + ruling_words(one.claim, one.theirs),
                 "ruling:" + one.ours.brief() + " ruling:" + one.theirs.brief());
        }
        more(report_.rulings.size());
    }

    void conflicts() {
        if (told_.conflicts.empty()) return;
        *call_.out << call_.layout.strong(things(told_.conflicts.size(), "conflict is", "conflicts are") + " new or larger") << "; see `saggar disputes`\n";
        for (std::size_t i = 0; i < told_.conflicts.size() && i < most_told; ++i) {
            std::string text;
            for (const ContentId& id : told_.conflicts[i]) text += (text.empty() ? "" : "  against  ") + about(id);
            line(text, "claim:" + told_.conflicts[i].front().brief());
        }
        more(told_.conflicts.size());
    }

    Call& call_;
    const MergeTold& told_;
    const MergeReport& report_;
    Privacy privacy_;
};

std::vector<std::string> full(const std::vector<ContentId>& ids) {
    std::vector<std::string> all;
    for (const ContentId& id : ids) all.push_back(id.full());
    return all;
}

}  // namespace

void write_merge(Call& call, const MergeTold& told) { MergeWriter(call, told).write(); }

nlohmann::json merge_as_json(const Call& call, const MergeTold& told) {
    const MergeReport& report = told.report;
    Privacy privacy(told.graph, call.with_private);
    const auto hidden = [&](const ContentId& id) { return !privacy.may_tell(id); };
    nlohmann::json words = nlohmann::json::array(), fields = nlohmann::json::array(), withdrawn = nlohmann::json::array(),
                   rulings = nlohmann::json::array(), conflicts = nlohmann::json::array(), problems = nlohmann::json::array();
    for (const WordDifference& one : report.words)
        words.push_back({{"what", one.what}, {"name", one.name}, {"how", one.how}, {"mapped", one.mapped}});
    for (const FieldDifference& one : report.fields) {
        if (!may_tell_field(privacy, one)) continue;
        fields.push_back({{"key", one.key}, {"field", one.field}, {"ours", one.ours}, {"theirs", one.theirs}});
    }
    for (const MergeWithdrawal& one : report.withdrawn)
        if (!hidden(one.record)) withdrawn.push_back({{"of", one.record.full()}, {"reason", one.reason}});
    for (const MergeRulings& one : report.rulings)
        if (!hidden(one.claim)) rulings.push_back({{"claim", one.claim.full()}, {"ours", one.ours.full()}, {"theirs", one.theirs.full()}});
    for (const auto& claims : told.conflicts) conflicts.push_back(full(claims));
    for (const Problem& one : report.problems.list())
        problems.push_back({{"id", one.id}, {"file", one.place.file}, {"line", one.place.line}, {"message", one.message}, {"next_step", one.next_step}});
    const Entry::Counts& n = report.counts;
    nlohmann::json all = {{"from", told.name},
                          {"dry_run", told.dry_run},
                          {"new",
                           {{"entities", n.entities}, {"sources", n.sources}, {"claims", n.claims}, {"evidence", n.evidence},
                            {"lists", n.lists}, {"arguments", n.arguments}, {"rulings", n.rulings}, {"withdrawals", n.withdrawals}}},
                          {"their_records", report.their_records},
                          {"their_entries", report.their_entries},
                          {"whole", report.whole},
                          {"known", report.known},
                          {"left_out", report.left_out},
                          {"pictures", report.pictures},
                          {"recorded_too", report.recorded_too},
                          {"unknown_withdrawals", report.unknown_withdrawals},
                          {"words", words},
                          {"words_taken", report.words_taken},
                          {"fields", fields},
                          {"withdrawn", withdrawn},
                          {"still_withdrawn", full(report.still_withdrawn)},
                          {"rulings", rulings},
                          {"conflicts", conflicts},
                          {"problems", problems},
                          {"errors", report.problems.errors()}};
    if (report.first_entry) all["entries"] = {{"first", report.first_entry}, {"last", report.last_entry}};
    return all;
}

}  // namespace saggar::app
