#include "importers/merge/merge.h"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "importers/checked_sink.h"
#include "importers/merge/merge_sink.h"
#include "importers/merge/survey.h"
#include "kg/model/fault.h"
#include "kg/store/media.h"

namespace saggar {
namespace {

// In the way from their history to the gate: private records out, then their words become ours.
class Translator final : public Sink {
public:
    Translator(Sink& next, PrivateFilter& filter, bool with_private, WordMap& words, MergeReport& report)
        : next_(next), filter_(filter), with_private_(with_private), words_(words), report_(report) {}

    void put(Record record, const Origin& origin) override {
        std::optional<Record> open = with_private_ ? std::optional<Record>(std::move(record)) : filtered(record);
        if (held_ && open) {
            waiting_.emplace_back(std::move(*open), PlainOrigin(origin.place_of("")));
        } else if (open) {
            pass_on(std::move(*open), origin);
        }
    }
    // The reason of a note is not told before it is known that nothing private came with it.
    void begin_entry(EntryHeader entry, const Origin& origin) override {
        finish();
        if (with_private_ || !speaks_of_its_records(entry.verb, entry.reason)) return next_.begin_entry(std::move(entry), origin);
        held_.emplace(std::move(entry), PlainOrigin(origin.place_of("")));
    }
    void finish() {
        if (!held_) return;
        next_.begin_entry(std::move(held_->first), held_->second);
        held_.reset();
        for (auto& [record, origin] : waiting_) pass_on(std::move(record), origin);
        waiting_.clear();
    }
    std::set<std::string> pictures;  // hashes, of sources that passed

private:
    std::optional<Record> filtered(const Record& record) {
        const std::size_t before = filter_.kept_back();
        auto open = filter_.pass(record);
        if (filter_.kept_back() > before && held_) held_->first.reason = "private";
        report_.left_out += filter_.kept_back() - before;
        return open;
    }
    void pass_on(Record record, const Origin& origin) {
        if (const auto* source = std::get_if<Source>(&record))
            if (std::string hash = media_hash(*source); !hash.empty()) pictures.insert(std::move(hash));
        next_.put(words_.to_ours(std::move(record)), origin);
    }

    Sink& next_;
    PrivateFilter& filter_;
    bool with_private_;
    WordMap& words_;
    MergeReport& report_;
    std::optional<std::pair<EntryHeader, PlainOrigin>> held_;  // of the entry whose records wait
    std::vector<std::pair<Record, PlainOrigin>> waiting_;
};

template <typename Document>
std::optional<Document> parsed(const std::string& text, const std::string& name, const std::string& what) {
    if (text.empty()) return std::nullopt;
    Problems problems;
    auto document = Document::parse(text, problems);
    if (!document) throw UsageFault("the " + what + " of " + name + " cannot be read", "ask for a whole export of it");
    return document;
}

// Our vocabulary with the kinds and relations of theirs that are named.
std::string with_words(const std::string& ours, const std::string& theirs, const WordMap& words) {
    nlohmann::ordered_json document = nlohmann::ordered_json::parse(ours);
    const nlohmann::ordered_json other = nlohmann::ordered_json::parse(theirs);
    for (const std::string& kind : words.unknown_kinds()) document["kinds"][kind] = other["kinds"][kind];
    for (const std::string& relation : words.unknown_relations()) document["relations"][relation] = other["relations"][relation];
    return document.dump(2) + "\n";
}

std::string joined(const std::vector<std::string>& words) { return fmt::format("{}", fmt::join(words, ", ")); }

class Merger {
public:
    Merger(Store& store, TheirGraph& theirs, const MergeOptions& options)
        : store_(store), theirs_(theirs), options_(options), before_(store.snapshot()) {}

    MergeReport run() {
        theirs_.tell(survey_, report_.problems);
        report_.their_records = survey_.records;
        report_.their_entries = survey_.entries;
        report_.whole = survey_.first_entry <= 1 && survey_.entries != 0;
        if (report_.problems.any_error()) return std::move(report_);
        const Profile profile = parsed<Profile>(before_->profile_text(), "this graph", "profile").value_or(Profile::standard());
        const auto their_words = parsed<Vocabulary>(survey_.vocabulary, theirs_.name(), "vocabulary");
        const auto their_profile = parsed<Profile>(survey_.profile, theirs_.name(), "profile");
        WordMap words(before_->vocabulary(), their_words ? &*their_words : nullptr, profile,
                      their_profile ? &*their_profile : nullptr, options_.choice);
        report_.words = words.differences();

        Change change = store_.begin(head("merge", ""));
        change.follow_with(head("merge", theirs_.name()));
        std::optional<Vocabulary> wider = take_words(words, change);
        const Vocabulary& vocabulary = wider ? *wider : before_->vocabulary();
        MergeSink into({store_, *before_, change, vocabulary, theirs_.name(), options_, report_}, descriptions(words));
        CheckedSink checked(into, vocabulary, profile, report_.problems, [&](const ContentId& id) { return change.turns_of(id) > 0; });
        Translator translator(checked, survey_.filter, options_.with_private, words, report_);
        theirs_.tell(translator, report_.problems);
        translator.finish();
        if (report_.problems.any_error()) return std::move(report_);
        into.finish();
        if (options_.dry_run) return std::move(report_);
        keep_pictures(translator.pictures);
        const std::uint64_t last = change.commit().number;
        if (last > before_->entry()) {
            report_.first_entry = before_->entry() + 1;
            report_.last_entry = last;
        }
        return std::move(report_);
    }

private:
    ChangeHead head(std::string verb, std::string reason) const {
        ChangeHead head;
        head.verb = std::move(verb);
        head.author = options_.author;
        head.reason = std::move(reason);
        head.time = options_.time;
        return head;
    }

    // Before the records that name them; a picture that their folder has lost is not missed here either.
    void keep_pictures(const std::set<std::string>& hashes) {
        if (theirs_.folder().empty()) return;
        for (const std::string& hash : hashes) {
            const auto file = media_path(theirs_.folder(), hash);
            if (std::filesystem::exists(file) && keep_media(store_.folder(), file, hash)) ++report_.pictures;
        }
    }

    std::optional<Vocabulary> take_words(const WordMap& words, Change& change) {
        if (!options_.take_words || (words.unknown_kinds().empty() && words.unknown_relations().empty())) return std::nullopt;
        report_.words_taken = words.unknown_kinds();
        report_.words_taken.insert(report_.words_taken.end(), words.unknown_relations().begin(), words.unknown_relations().end());
        const std::string text = with_words(before_->vocabulary_text(), survey_.vocabulary, words);
        Problems problems;
        auto wider = Vocabulary::parse(text, problems);
        if (!wider)
            throw UsageFault("with the words of " + theirs_.name() + " the vocabulary is not sound: " + problems.list().front().message,
                             "map the words instead");
        change.follow_with(head("merge", fmt::format("words of {} taken into the vocabulary: {}", theirs_.name(), joined(report_.words_taken))));
        change.put_document("vocabulary", text);
        return wider;
    }

    MergeSink::Descriptions descriptions(const WordMap& words) {
        MergeSink::Descriptions all;
        WordMap copy = words;  // descriptions have no ids to follow
        const auto open = [this](const Record& one) { return options_.with_private ? std::optional<Record>(one) : survey_.filter.pass(one); };
        for (const Entity& one : survey_.entities) {
            auto shown = open(one);
            if (!shown) continue;
            Entity ours = std::get<Entity>(copy.to_ours(std::move(*shown)));
            all.entities[ours.key].push_back(std::move(ours));
        }
        for (const Source& one : survey_.sources) {
            auto shown = open(one);
            if (!shown) continue;
            Source ours = std::get<Source>(copy.to_ours(std::move(*shown)));
            all.sources[ours.key].push_back(std::move(ours));
        }
        return all;
    }

    Store& store_;
    TheirGraph& theirs_;
    const MergeOptions& options_;
    std::unique_ptr<Snapshot> before_;
    MergeSurvey survey_;
    MergeReport report_;
};

}  // namespace

MergeReport merge(Store& store, TheirGraph& theirs, const MergeOptions& options) { return Merger(store, theirs, options).run(); }

}  // namespace saggar
