"""How hard a text is to read, and the words of a Markdown page as a reader meets them."""

import re


def syllables(word):
    """Groups of vowels, a silent e at the end left out; at least one."""
    word = re.sub(r"[^a-z]", "", word.lower())
    return max(1, len(re.findall(r"[aeiouy]+", re.sub(r"e$", "", word))))


def grade(sentences):
    """Flesch-Kincaid grade level.

    Source: Kincaid et al. 1975, Navy Research Branch report 8-75.
    """
    sentences = [
        part
        for text in sentences
        for part in re.split(r"(?<=[.?!:])\s+", text)
        if re.search("[a-z]", part)
    ]
    words = [word for text in sentences for word in re.findall(r"[A-Za-z']+", text)]
    return (
        0.39 * len(words) / len(sentences) + 11.8 * sum(map(syllables, words)) / len(words) - 15.59
    )


def paragraphs(markdown):
    """Paragraphs, list items and table cells of a Markdown text; without headings, code, formulas
    and addresses.
    """
    text = re.sub(r"```.*?```|\$\$.*?\$\$", "", markdown, flags=re.DOTALL)
    text = re.sub(r"^(#|    ).*$", "", text, flags=re.MULTILINE)
    text = re.sub(r"!?\[([^\]]*)\]\([^)]*\)", r"\1", re.sub(r"`[^`]*`|\$[^$]*\$", "it", text))
    text = re.sub(r"^\s*([-*]|\d+\.)\s+|\s*\|\s*", "\n\n", text, flags=re.MULTILINE)
    return [
        part.strip()
        for part in re.split(r"\n\s*\n", re.sub(r"[*_]", "", text))
        if len(part.split()) > 2
    ]
