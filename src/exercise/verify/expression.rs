//! A small evaluator of whole-number expressions: `+ - * //` and brackets.

/// What the expression comes to; `//` rounds down.
pub(super) fn evaluate(text: &str) -> Result<i128, String> {
    let mut reader = Reader { text, rest: text };
    let value = reader.sum()?;
    if reader.peek().is_some() { Err(reader.fault()) } else { Ok(value) }
}

struct Reader<'a> {
    text: &'a str,
    rest: &'a str,
}

impl Reader<'_> {
    fn fault(&self) -> String {
        format!("cannot read `{}` at `{}`", self.text, self.rest)
    }
    fn peek(&mut self) -> Option<char> {
        self.rest = self.rest.trim_start_matches(' ');
        self.rest.chars().next()
    }
    fn take(&mut self, sign: &str) -> bool {
        self.peek();
        let rest = self.rest.strip_prefix(sign);
        self.rest = rest.unwrap_or(self.rest);
        rest.is_some()
    }
    fn sum(&mut self) -> Result<i128, String> {
        let mut value = self.term()?;
        loop {
            let next = if self.take("+") {
                value.checked_add(self.term()?)
            } else if self.take("-") {
                value.checked_sub(self.term()?)
            } else {
                return Ok(value);
            };
            value = next.ok_or_else(|| self.fault())?;
        }
    }
    fn term(&mut self) -> Result<i128, String> {
        let mut value = self.factor()?;
        loop {
            let next = if self.take("*") {
                value.checked_mul(self.factor()?)
            } else if self.take("//") {
                value.checked_div_euclid(self.factor()?)
            } else {
                return Ok(value);
            };
            value = next.ok_or_else(|| self.fault())?;
        }
    }
    fn factor(&mut self) -> Result<i128, String> {
        if self.take("(") {
            let value = self.sum()?;
            return if self.take(")") { Ok(value) } else { Err(self.fault()) };
        }
        self.peek();
        let end = self.rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(self.rest.len());
        let value = self.rest[..end].parse().map_err(|_| self.fault())?;
        self.rest = &self.rest[end..];
        Ok(value)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn products_bind_closer_than_sums() {
        let values = ["2+3*4", "(2+3)*4", "36*200 - 36", "47 // 2", "7 - 2 - 3", "48*100 // 4"];
        assert_eq!(values.map(|v| evaluate(v).expect(v)), [14, 20, 7164, 23, 2, 1200]);
    }

    #[test]
    fn what_is_not_an_expression_is_refused() {
        for text in ["", "3 +", "3 4", "(3", "3 / 4", "a*b", "3 // 0", "1,000*2", "3**2"] {
            assert!(evaluate(text).is_err(), "{text}");
        }
        assert!(evaluate(&"9*".repeat(60).trim_end_matches('*').replace('9', "99999999")).is_err());
    }
}
