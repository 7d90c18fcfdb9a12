#include "report/picture.h"

#include <fmt/format.h>

#include "score/scorecard_table.h"

namespace graftwright {
namespace {

constexpr const char* kFonts = "Inter, 'Helvetica Neue', Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif";

std::string opening(const Picture& picture, double height, const char* more) {
    return fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {} {}\"{} role=\"img\" "
        "aria-labelledby=\"{}-title {}-text\" font-family=\"{}\">\n<title id=\"{}-title\">{}</title>\n"
        "<desc id=\"{}-text\">{}</desc>\n",
        svg_number(picture.width), svg_number(height), more, picture.name, picture.name, kFonts, picture.name,
        escaped(picture.title), picture.name, escaped(picture.description));
}

}  // namespace

Picture panel(std::string name, std::string title, std::string description) {
    Picture picture;
    picture.name = std::move(name);
    picture.title = std::move(title);
    picture.description = std::move(description);
    picture.canvas.text({10, 21}, picture.title, {16.0, Lettering::Anchor::start, true, kInk, false});
    return picture;
}

std::string inline_svg(const Picture& picture) {
    return opening(picture, picture.height, "") + picture.canvas.body() + "</svg>\n";
}

std::string standalone_svg(const Picture& picture, const std::string& subject) {
    // Small, but as large as the smallest words of the picture itself.
    const double size = picture.width > 900 ? 15.0 : 10.5, leading = 1.35 * size;
    const double margin = picture.width > 900 ? 24.0 : 10.0, width = picture.width - 2 * margin;
    SvgCanvas foot;
    double y = picture.height + leading;
    y = foot.paragraph({margin, y}, subject, width, {size, Lettering::Anchor::start, true, kInk, false}, leading);
    y = foot.paragraph({margin, y}, kCaution, width, {size, Lettering::Anchor::start, false, kInk, false}, leading);
    const double height = y;
    const std::string size_words =
        fmt::format(R"( width="{}" height="{}")", svg_number(picture.width), svg_number(height));
    SvgCanvas ground;
    ground.rectangle({0, 0}, picture.width, height, kPaper, {kPaper, 0.0, ""});
    return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + opening(picture, height, size_words.c_str()) +
           ground.body() + picture.canvas.body() + foot.body() + "</svg>\n";
}

}  // namespace graftwright
