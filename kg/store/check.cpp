#include "kg/store/check.h"

#include <fmt/format.h>

#include <map>

#include "kg/model/fault.h"
#include "kg/store/check_words.h"
#include "kg/store/database.h"
#include "kg/store/keys.h"
#include "kg/store/media.h"
#include "kg/store/private_marks.h"
#include "kg/store/row_codec.h"

namespace saggar {
namespace {

constexpr std::size_t most_kept = 100;

class Checker {
public:
    Checker(const Store& store, bool with_private)
        : folder_(store.folder()), database_(*store.database()), snapshot_(store.snapshot()), marks_(*snapshot_),
          with_private_(with_private), last_(store.last_entry()) {}

    CheckReport run() {
        documents();
        entities();
        sources();
        claims();
        numbered();
        indexes();
        words();
        history();
        return std::move(report_);
    }

private:
    void damaged(std::string text) {
        if (report_.damage.size() < most_kept) report_.damage.push_back(std::move(text));
    }

    // Runs one record's checks; a record that cannot be read is damage, not the end of the check.
    template <typename Each>
    void family(std::string_view prefix, std::string_view name, Each each) {
        for_prefix(database_, prefix, [&](std::string_view key, std::string_view value) {
            try {
                each(key, value);
            } catch (const StoreFault& fault) {
                damaged(fmt::format("{}: {}", name, fault.what()));
            }
            return true;
        });
    }

    bool may_name(EntityId id) { return with_private_ || !marks_.is_hidden(id); }
    std::string name_of(EntityId id, const std::string& key) { return may_name(id) ? key : "a private thing"; }

    void must_exist(const std::string& key, std::string_view what) {
        if (!database_.get(key)) damaged(fmt::format("{} is missing", what));
    }

    void spans_sound(std::string_view value, std::string_view what) {
        std::uint64_t before = 0;
        for (const Span& span : read_spans(value)) {
            const bool sound = span.since >= before && span.since <= last_ &&
                               (span.until == 0 || (span.until > span.since && span.until <= last_));
            if (!sound) damaged(fmt::format("{} names an entry that does not exist", what));
            before = span.until == 0 ? last_ + 1 : span.until;
        }
    }

    void seen(const std::string& link, const ClaimRow& claim, std::string_view end) {
        const auto spans = database_.get(link);
        if (!spans || read_spans(*spans) != claim.spans)
            damaged(fmt::format("claim {} is not seen from its {}", claim.id.brief(), end));
    }

    void content(const ContentId& id, const ContentId& computed, std::string_view what) {
        if (id != computed) damaged(fmt::format("{} {} does not match its content", what, id.brief()));
        must_exist(keys::content(id), fmt::format("the id of {} {}", what, id.brief()));
    }

    void documents() {
        if (snapshot_->vocabulary_text().empty()) damaged("the vocabulary is missing");
    }

    void entities() {
        const std::uint64_t bound = snapshot_->entity_bound();
        family("e", "entity", [&](std::string_view key, std::string_view value) {
            const EntityId id{Bytes(key.substr(1)).big64()};
            if (id.value >= bound) damaged(fmt::format("entity {} is beyond the counter", id.value));
            for (const auto& [since, fields] : decode_versions(value)) {
                Entity entity;
                decode(fields, entity);
                if (since > last_) damaged(fmt::format("{} names an entry that does not exist", name_of(id, entity.key)));
                const auto found = database_.get(keys::keyed(entity.key));
                if (!found || Bytes(*found).big64() != id.value)
                    damaged(fmt::format("the key of {} does not lead to it", name_of(id, entity.key)));
            }
            ++report_.entities;
            const auto entity = snapshot_->entity(id);
            if (entity && entity->label.text.empty() && !database_.get(keys::source(id)) && may_name(id)) {
                ++report_.undescribed_count;
                if (report_.undescribed.size() < most_kept) report_.undescribed.push_back(entity->key);
            }
        });
    }

    void sources() {
        family("s", "source", [&](std::string_view key, std::string_view value) {
            for (const auto& [since, fields] : decode_versions(value)) {
                Source source;
                decode(fields, source);
            }
            must_exist(keys::entity(EntityId{Bytes(key.substr(1)).big64()}), "the entity of a source");
            ++report_.sources;
        });
        std::map<std::string, EntityId> pictures;
        snapshot_->each_source([&](EntityId id, const Source& source) {
            const std::string hash = media_hash(source);
            if (!hash.empty()) pictures.emplace(hash, id);
        });
        for (const auto& [hash, id] : pictures) {
            ++report_.pictures;
            const std::string key = name_of(id, snapshot_->key_of(id));
            const MediaState state = media_state(folder_, hash);
            if (state == MediaState::missing && report_.missing_pictures.size() < most_kept) report_.missing_pictures.push_back(key);
            if (state == MediaState::altered) damaged(fmt::format("the picture of {} is not what its checksum says", key));
        }
    }

    void claims() {
        bool has_evidence = true;
        ClaimRow current;
        const auto close = [&] {
            if (has_evidence || !in_force(current.spans, last_)) return;
            if (snapshot_->arguments_for(current.ref).empty()) ++report_.claims_without_evidence;
        };
        family("c", "claim", [&](std::string_view key, std::string_view value) {
            Bytes bytes(key.substr(1));
            const ClaimRef ref = keys::read_claim(bytes);
            spans_sound(value, "a claim or its evidence");
            if (bytes.at_end()) {
                close();
                current = {};
                current.ref = ref;
                decode(value, current);
                has_evidence = false;
                ++report_.claims;
                if (ref.number >= snapshot_->claim_bound()) damaged("a claim is beyond the counter");
                content(current.id, id_of(snapshot_->to_record(current)), "claim");
                if (current.has_entity_object()) {
                    seen(keys::link_from(ref, current.object), current, "subject");
                    seen(keys::link_to(current.object, ref), current, "object");
                }
                return;
            }
            EvidenceRow row;
            row.claim = ref;
            row.ordinal = bytes.big32();
            decode(value, row);
            has_evidence = has_evidence || in_force(row.spans, last_);
            if (ref != current.ref) return damaged("evidence stands without its claim");
            content(row.id, id_of(snapshot_->to_record(row, current.id)), "evidence");
            must_exist(keys::by_source(row.source, ref, row.ordinal), "the way from a source to its evidence");
            if (!row.corrects.empty()) must_exist(keys::correction(row.corrects, ref, row.ordinal), "the way to a correction");
            ++report_.evidence;
        });
        close();
    }

    void numbered() {
        snapshot_->each_listing([&](const ListingRow& row) {
            content(row.id, id_of(snapshot_->to_record(row)), "list");
            ++report_.lists;
        });
        snapshot_->each_argument([&](const ArgumentRow& row) {
            content(row.id, id_of(snapshot_->to_record(row)), "argument");
            must_exist(keys::claim(row.conclusion), "the conclusion of an argument");
            for (const ClaimRef& premise : row.premises)
                must_exist(keys::premise(premise, row.conclusion, row.number),
                           "the way from a premise to its argument");
            ++report_.arguments;
        });
        snapshot_->each_ruling([&](const RulingRow& row) {
            content(row.id, id_of(snapshot_->to_record(row)), "ruling");
            must_exist(keys::claim(row.claim), "the claim of a ruling");
            ++report_.rulings;
        });
    }

    void indexes() {
        family("x", "id", [&](std::string_view, std::string_view value) {
            must_exist(keys::record(decode_place(value)), "the record of an id");
        });
        family("o", "link", [&](std::string_view key, std::string_view) {
            Bytes bytes(key.substr(1));
            const EntityId thing{bytes.big64()};
            must_exist(keys::claim(keys::read_link(thing, bytes).claim), "the claim of a link");
        });
        family("y", "source link", [&](std::string_view key, std::string_view) {
            must_exist("c" + std::string(key.substr(9)), "the evidence of a source");
        });
        family("k", "key", [&](std::string_view, std::string_view value) {
            must_exist(keys::entity(EntityId{Bytes(value).big64()}), "the entity of a key");
        });
    }

    void words() {
        try {
            check_words(database_, [this](std::string what) { damaged(std::move(what)); });
        } catch (const StoreFault& fault) {
            damaged(fmt::format("the words: {}", fault.what()));
        }
    }

    void history() {
        std::uint64_t expected = 1;
        for (const Entry& entry : snapshot_->history(1, last_)) {
            if (entry.number != expected) damaged(fmt::format("entry {} of the history is missing", expected));
            expected = entry.number + 1;
            ++report_.entries;
        }
        if (expected != last_ + 1) damaged("the end of the history is missing");
    }

    std::filesystem::path folder_;
    const Database& database_;
    std::unique_ptr<Snapshot> snapshot_;
    PrivateMarks marks_;
    bool with_private_;
    std::uint64_t last_;
    CheckReport report_;
};

}  // namespace

CheckReport check(const Store& store, bool with_private) {
    return Checker(store, with_private).run();
}

}  // namespace saggar
