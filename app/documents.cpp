#include "app/documents.h"

#include <fstream>
#include <sstream>

#include "app/loading.h"
#include "kg/model/fault.h"
#include "kg/model/vocabulary.h"
#include "kg/weigh/profile.h"
#include "kg/weigh/rules.h"
#include "queries/time_rules.h"

namespace saggar::app {

std::string document_text(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in) throw UsageFault("cannot read " + path, "see that the file is there");
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

bool vocabulary_is_sound(const Call& call, const std::string& text, const std::string& path) {
    Problems problems;
    const auto vocabulary = Vocabulary::parse(text, problems, path);
    if (vocabulary) read_rules(text, *vocabulary, problems, path);
    write_problems(*call.err, problems);
    if (vocabulary && !problems.any_error()) TimeRules::of(*vocabulary);
    return !problems.any_error();
}

bool profile_is_sound(const Call& call, const std::string& text, const std::string& path) {
    Problems problems;
    Profile::parse(text, problems, path);
    write_problems(*call.err, problems);
    return !problems.any_error();
}

}  // namespace saggar::app
