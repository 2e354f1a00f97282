//! A tree as text that a person can check: the debug form without places, a line for what fits on one.

use std::fmt::Debug;

/// A part of a debug text.
enum Node {
    Word(String),
    /// Opening mark, members, closing mark.
    Group(String, Vec<Node>, char),
    /// `name: member`
    Field(String, Box<Node>),
}

/// `value` in lines of at most `width` where that is possible.
pub fn print(value: &impl Debug, width: usize) -> String {
    let text: Vec<char> = format!("{value:?}").chars().collect();
    let mut at = 0;
    let node = read(&text, &mut at);
    let mut out = String::new();
    write(&node, 0, width, &mut out);
    out.push('\n');
    out
}

fn read(text: &[char], at: &mut usize) -> Node {
    let mut word = String::new();
    while let Some(letter) = text.get(*at) {
        match letter {
            '"' | '\'' => {
                let quote = *letter;
                loop {
                    word.push(text[*at]);
                    *at += 1;
                    if text[*at] == '\\' {
                        word.extend([text[*at], text[*at + 1]]);
                        *at += 2;
                    }
                    if text[*at] == quote {
                        break;
                    }
                }
                word.push(quote);
                *at += 1;
            }
            '(' | '[' | '{' => {
                let close = [')', ']', '}'][['(', '[', '{'].iter().position(|open| open == letter).unwrap()];
                word.push(*letter);
                *at += 1;
                let members = read_members(text, at, close);
                return simplify(word, members, close);
            }
            ':' => {
                *at += 2;
                return Node::Field(word, Box::new(read(text, at)));
            }
            ',' | ')' | ']' | '}' => break,
            ' ' => *at += 1,
            _ => {
                word.push(*letter);
                *at += 1;
            }
        }
    }
    Node::Word(word)
}

fn read_members(text: &[char], at: &mut usize, close: char) -> Vec<Node> {
    let mut members = Vec::new();
    loop {
        while matches!(text[*at], ' ' | ',') {
            *at += 1;
        }
        if text[*at] == close {
            *at += 1;
            return members;
        }
        members.push(read(text, at));
    }
}

/// Leaves out places, and what is only there to hold one.
fn simplify(open: String, members: Vec<Node>, close: char) -> Node {
    let mut members: Vec<Node> = members
        .into_iter()
        .filter(|member| match member {
            Node::Field(name, value) => {
                name != "span" && !matches!(&**value, Node::Group(open, ..) if open == "Span{")
            }
            _ => true,
        })
        .collect();
    let holds = open.starts_with("Spanned") || open == "Clause{";
    if holds && let Node::Field(_, value) = members.swap_remove(0) {
        return *value;
    }
    Node::Group(open, members, close)
}

fn flat(node: &Node) -> String {
    match node {
        Node::Word(word) => word.clone(),
        Node::Field(name, value) => format!("{name}: {}", flat(value)),
        Node::Group(open, members, close) => {
            format!("{open}{}{close}", members.iter().map(flat).collect::<Vec<_>>().join(", "))
        }
    }
}

fn write(node: &Node, indent: usize, width: usize, out: &mut String) {
    let line = flat(node);
    if indent + line.chars().count() <= width {
        out.push_str(&line);
        return;
    }
    match node {
        Node::Word(word) => out.push_str(word),
        Node::Field(name, value) => {
            out.push_str(&format!("{name}: "));
            write(value, indent, width, out);
        }
        Node::Group(open, members, close) => {
            out.push_str(open);
            for member in members {
                out.push_str(&format!("\n{}", " ".repeat(indent + 2)));
                write(member, indent + 2, width, out);
            }
            out.push_str(&format!("\n{}{close}", " ".repeat(indent)));
        }
    }
}
