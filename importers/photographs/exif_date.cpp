#include "importers/photographs/exif_date.h"

#include <libexif/exif-data.h>

#include <algorithm>
#include <memory>

#include "kg/time/edtf_read.h"

namespace saggar {
namespace {

constexpr std::size_t most_exif_bytes = 65533;

// "1958:06:14 09:30:00" as EDTF. Blanks or zeros stand for what is not known.
std::string edtf_of(std::string_view text) {
    if (text.size() != 19 || text[4] != ':' || text[7] != ':' || text[10] != ' ' || text[13] != ':' || text[16] != ':')
        return {};
    std::string edtf(text);
    edtf[4] = edtf[7] = '-';
    edtf[10] = 'T';
    return time::read_edtf(edtf) ? edtf : std::string();
}

}  // namespace

ExifDate exif_capture_date(std::string_view exif) {
    ExifDate date;
    if (exif.empty()) return date;
    const std::string bytes = std::string("Exif\0\0", 6).append(exif.substr(0, most_exif_bytes));
    const std::unique_ptr<ExifData, void (*)(ExifData*)> data(exif_data_new(), exif_data_unref);
    if (!data) return date;
    // As it stands: nothing is added that the file does not say.
    exif_data_unset_option(data.get(), EXIF_DATA_OPTION_FOLLOW_SPECIFICATION);
    exif_data_set_option(data.get(), EXIF_DATA_OPTION_DONT_CHANGE_MAKER_NOTE);
    exif_data_load_data(data.get(), reinterpret_cast<const unsigned char*>(bytes.data()),
                        static_cast<unsigned int>(bytes.size()));
    const ExifEntry* const entry = exif_content_get_entry(data->ifd[EXIF_IFD_EXIF], EXIF_TAG_DATE_TIME_ORIGINAL);
    if (!entry || entry->format != EXIF_FORMAT_ASCII || !entry->data) return date;
    std::string_view text(reinterpret_cast<const char*>(entry->data), std::min<std::size_t>(entry->size, 100));
    text = text.substr(0, text.find('\0'));
    if (text.find_first_not_of(" :0") == std::string_view::npos) return date;
    for (const char sign : text) date.text += sign >= ' ' && sign <= '~' ? sign : '?';
    date.edtf = edtf_of(text);
    return date;
}

}  // namespace saggar
