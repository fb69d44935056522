//! Markup that cannot be broken out of: text gets into it only escaped, tags and attribute names only from the source.
//!
//! Good for HTML and for SVG inside it. Not here: what a page looks like (`card_page`), and characters that act without
//! being markup, which [`crate::text::Shown`] has already made visible.

/// A piece of a page.
#[derive(Debug, Clone, Default)]
pub(super) struct Markup(String);

impl Markup {
    /// Text, escaped.
    pub(super) fn text(text: &str) -> Self {
        Self(escaped(text))
    }

    /// Markup written in the source of this program.
    pub(super) fn fixed(markup: &'static str) -> Self {
        Self(markup.to_owned())
    }

    /// An element with its attributes and what stands in it.
    pub(super) fn element(tag: &'static str, attributes: &[(&'static str, &str)], inside: &[Self]) -> Self {
        let mut markup = format!("<{tag}");
        for (name, value) in attributes {
            markup.extend([" ", name, "=\"", &escaped(value), "\""]);
        }
        markup.push('>');
        markup.extend(inside.iter().map(|piece| piece.0.as_str()));
        markup.extend(["</", tag, ">"]);
        Self(markup)
    }

    /// The finished text.
    pub(super) fn finished(self) -> String {
        self.0
    }
}

impl FromIterator<Markup> for Markup {
    fn from_iter<Pieces: IntoIterator<Item = Markup>>(pieces: Pieces) -> Self {
        Self(pieces.into_iter().map(|piece| piece.0).collect())
    }
}

/// The five characters that act in markup, between tags or in an attribute, as references (HTML Living Standard, 13.3,
/// "Escaping a string", from memory; and the apostrophe, which that leaves alone because it always writes double quotes).
fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            other => safe.push(other),
        }
    }
    safe
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_stays_text_between_tags() {
        let piece = Markup::element("p", &[], &[Markup::text("<script>1 & 2</script>")]);
        assert_eq!(piece.finished(), "<p>&lt;script&gt;1 &amp; 2&lt;/script&gt;</p>");
    }

    #[test]
    fn a_value_cannot_leave_its_attribute() {
        let piece = Markup::element("i", &[("title", "\" onload='x")], &[]);
        assert_eq!(piece.finished(), "<i title=\"&quot; onload=&#39;x\"></i>");
    }
}
