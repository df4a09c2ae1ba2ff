#include "small_graph.h"

#include <stdexcept>

namespace saggar::testing {

namespace {

void thing(Change& change, const char* key, const char* label) {
    Entity entity;
    entity.key = key;
    entity.label.text = label;
    change.put(entity);
}

Source source(const char* key, const char* type, const char* title, const char* author, const char* issued) {
    Source s;
    s.key = key;
    s.type = type;
    s.title = title;
    s.author = author;
    s.issued = issued;
    return s;
}

Claim claim_of(const char* subject, const char* relation, const char* object, Value::Type type = Value::Type::entity) {
    Claim claim;
    claim.subject = subject;
    claim.relation = relation;
    claim.object.type = type;
    claim.object.text = object;
    return claim;
}

void says(Change& change, const Claim& claim, const char* key, Stance stance = Stance::in_favour, const char* at = "",
          const char* quote = "", bool is_private = false) {
    change.put(claim);
    Evidence evidence;
    evidence.claim = id_of(claim);
    evidence.source = key;
    evidence.stance = stance;
    evidence.at = at;
    evidence.quote = quote;
    evidence.is_private = is_private;
    change.put(evidence);
}

void put_things(Change& change) {
    thing(change, "line:northern", "Northern");
    thing(change, "shape:lantern", "Lantern");
    thing(change, "shape:pinnace", "Pinnace");
    thing(change, "shape:fathom", "Fathom");
    thing(change, "shape:tern", "Tern");
    thing(change, "article:tureen", "tureen");
    thing(change, "article:teapot", "teapot");
    thing(change, "article:sauce-boat", "sauce boat");
    thing(change, "item:pinnace-teapot", "Pinnace teapot");
    thing(change, "item:lantern-teapot", "Lantern teapot");
    thing(change, "piece:plate-1", "Plate 1");
    thing(change, "glaze:ember", "Ember");
    thing(change, "company:northern-provident", "Northern Provident");
    thing(change, "person:maud-ennersley", "Maud Ennersley");
    thing(change, "person:aurel-stannick", "Aurel Stannick");
}

void put_sources(Change& change) {
    auto memo = source("source:memo-1", "memo", "Wrenholt to Ennersley", "Tobias Wrenholt", "1937-11-02");
    memo.box = "9";
    memo.folder = "2";
    memo.collection = "Skerrow company papers";
    memo.archive = "Marnhaven Record Office";
    change.put(memo);
    auto journal = source("source:journal", "journal", "Maud Ennersley, working journal no. 5, 1936 to 1937",
                          "Maud Ennersley", "1936/1937");
    journal.collection = "Ennersley papers";
    journal.archive = "Marnhaven Record Office";
    change.put(journal);
    auto notice = source("source:notice", "trade-notice", "A new shape from Skerrow", "", "1939-02");
    notice.more = {{"container-title", "The Crockery Packer"}};
    change.put(notice);
    auto guide = source("source:guide", "guide", "Quay Wares", "Ada Quill", "1974");
    guide.more = {{"publisher", "Plain Press"}};
    guide.copied_from = {{"source:notice", 1, 1}};
    change.put(guide);
    change.put(source("source:photo", "photograph", "The stand at the winter fair", "Silas Vennick", "1958-01"));
    change.put(source("source:order-list", "price-list", "Tern, complete order list, 1 March 1962", "", "1962-03-01"));
    auto letter = source("source:private-letter", "letter", "PLANTED private letter", "", "2001");
    letter.is_private = true;
    change.put(letter);
}

void put_claims(Change& change) {
    says(change, claim_of("line:northern", "built-on", "shape:lantern"), "source:memo-1", Stance::in_favour, "page=1");
    says(change, claim_of("line:northern", "built-on", "shape:lantern"), "source:journal", Stance::in_favour, "page=57",
         "the grocers want the Lantern plain");
    says(change, claim_of("line:northern", "commissioned-by", "company:northern-provident"), "source:memo-1",
         Stance::in_favour, "page=1");
    says(change, claim_of("line:northern", "commissioned-by", "company:northern-provident"), "source:notice",
         Stance::against, "page=31");
    says(change, claim_of("shape:pinnace", "modelled-by", "person:maud-ennersley"), "source:journal", Stance::in_favour,
         "page=12");
    says(change, claim_of("shape:pinnace", "modelled-by", "person:aurel-stannick"), "source:notice", Stance::in_favour,
         "page=31");
    says(change, claim_of("shape:pinnace", "modelled-by", "person:aurel-stannick"), "source:guide", Stance::in_favour,
         "page=88");
    says(change, claim_of("shape:lantern", "introduced-in", "1936-01", Value::Type::date), "source:notice",
         Stance::in_favour, "page=12");
    says(change, claim_of("shape:lantern", "glazed-in", "glaze:ember"), "source:journal");
    says(change, claim_of("glaze:ember", "hazard", "lead", Value::Type::text), "source:journal");
    says(change, claim_of("shape:tern", "comprises", "article:tureen"), "source:photo");
    says(change, claim_of("shape:tern", "comprises", "article:teapot"), "source:order-list");
    says(change, claim_of("shape:fathom", "replaced-by", "shape:tern"), "source:order-list");
    says(change, claim_of("shape:lantern", "modelled-by", "person:maud-ennersley"), "source:private-letter",
         Stance::in_favour, "", "PLANTED quote", true);

    auto scoped = claim_of("shape:lantern", "comprises", "article:sauce-boat");
    scoped.scope = "line:northern";
    says(change, scoped, "source:memo-1", Stance::in_favour, "page=2");
    says(change, claim_of("shape:fathom", "comprises", "article:tureen"), "source:journal", Stance::against, "page=21");
    says(change, claim_of("item:pinnace-teapot", "of-shape", "shape:pinnace"), "source:journal");
    says(change, claim_of("item:pinnace-teapot", "article-of", "article:teapot"), "source:journal");
    says(change, claim_of("item:pinnace-teapot", "borrowed-from", "item:lantern-teapot"), "source:journal",
         Stance::in_favour, "page=60");
    says(change, claim_of("shape:lantern", "dropped-in", "1954", Value::Type::date), "source:guide", Stance::in_favour,
         "page=90");
    says(change, claim_of("shape:lantern", "dropped-in", "1956", Value::Type::date), "source:order-list");
    says(change, claim_of("shape:fathom", "introduced-in", "1930~", Value::Type::date), "source:guide",
         Stance::in_favour, "page=20");
    says(change, claim_of("piece:plate-1", "instance-of", "shape:fathom"), "source:photo");
    says(change, claim_of("piece:plate-1", "made-in-year", "1934", Value::Type::date), "source:photo");

    Listing listing;
    listing.source = "source:order-list";
    listing.subject = "shape:tern";
    listing.relation = "comprises";
    listing.completeness = 0.9;
    change.put(listing);

    Argument guess;
    guess.premises = {id_of(claim_of("line:northern", "built-on", "shape:lantern"))};
    guess.conclusion = id_of(claim_of("shape:pinnace", "modelled-by", "person:maud-ennersley"));
    guess.strength = 0.3;
    guess.reason = "She modelled the shape before it";
    change.put(guess);

    Ruling ruling;
    ruling.claim = id_of(claim_of("shape:pinnace", "modelled-by", "person:maud-ennersley"));
    ruling.decision = Ruling::Decision::accepted;
    ruling.reasons = "The journal is her own";
    ruling.decided_by = "H. Quance";
    ruling.decided_on = "2020-05-03";
    change.put(ruling);
}

}  // namespace

SmallGraph::SmallGraph() {
    const std::string time = "2026-01-01T00:00:00Z";
    store_ = std::make_unique<Store>(Store::create(folder_.path() / "graph", {"", "", "tester", time}));
    ChangeHead head;
    head.verb = "load";
    head.author = "tester";
    head.time = time;
    Change change = store_->begin(head);
    put_things(change);
    put_sources(change);
    put_claims(change);
    change.commit();
    snapshot_ = store_->snapshot();
}

ClaimRef SmallGraph::claim(const char* subject, const char* relation, const char* object) const {
    const auto found = snapshot_->find_claim(claim_of(subject, relation, object));
    if (!found) throw std::logic_error("no such claim in the small graph");
    return *found;
}

}  // namespace saggar::testing
